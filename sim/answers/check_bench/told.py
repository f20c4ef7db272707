"""The comparison as one object and as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.answers.check_bench.compare import SURE, BenchAnswer, Line
from sim.telling.caution import CAUTION
from sim.telling.words import bullets, wrapped

FORMAT: Final = "hangflat.check-bench/1"
Object = Mapping[str, Any]
SHOWN: Final = {
    "kg": ("kg", 1.0, 2),
    "m^3": ("l", 1e3, 2),
    "m": ("cm", 1e2, 1),
    "s": ("s", 1.0, 1),
    "N m": ("N m", 1.0, 1),
}
MEANING: Final = {
    "item mass": 'what it weighs: state it in the scenario (mass = "...")',
    "displaced volume": "its size or its density, or air trapped in it when it was weighed",
    "position": "where its mass lies: how its parts are placed, or its shape",
    "suit gas or garment": "how much gas the suit holds and where the undergarment lets it go",
    "lung gas": "the breathing level, or a regulator above or below the chest",
    "body density": "state body_fat or body_density",
    "motion": "inertia, water moved and drag, on which the time hangs but not the direction",
}


def bench_json(answer: BenchAnswer) -> dict[str, Any]:
    """The ``hangflat.check-bench/1`` object, SI units."""
    return {
        "format": FORMAT,
        "scenario": answer.scenario,
        "title": answer.title,
        "water_density_kg_m3": answer.density,
        "lines": [_line(line) for line in answer.lines],
        "agrees": all(line.verdict != "contradicts" for line in answer.lines),
        "notes": list(answer.notes),
        "caution": CAUTION,
    }


def _line(line: Line) -> dict[str, Any]:
    measured, model = line.words or (line.measured, line.model)
    both = line.measured is not None and line.model is not None
    return {
        "item": line.item, "quantity": line.quantity, "unit": line.unit, "measured": measured, "model": model,
        "difference": line.measured - line.model if both else None,  # type: ignore[operator]
        "spread": line.spread, "spread_assumed": line.assumed_spread, "verdict": line.verdict,
        "assumptions": list(line.assumptions), "remark": line.remark,
    }  # fmt: skip


def bench_text(told: Object) -> str:
    """Plain text, at most 100 columns wide; what is contradicted comes after the table."""
    wrong = [line for line in told["lines"] if line["verdict"] == "contradicts"]
    count = len(told["lines"])
    first = (
        f"All {count} lines agree with the model within {SURE:g} spreads, or cannot tell."
        if not wrong
        else f"{len(wrong)} of {count} lines contradict the model."
    )
    lines = [first, "", f"Scenario: {told['title']} ({told['scenario']})"]
    if told["water_density_kg_m3"] is not None:
        lines.append(f"Water of the weighings: {told['water_density_kg_m3']:.1f} kg/m^3")
    lines += ["", f"{'':<47}{'measured':>11}{'model':>11}{'difference':>12}{'spread':>10}", "-" * 100]
    for line in told["lines"]:
        lines += _row(line)
    lines += bullets(
        "What is contradicted, and which assumption that points to (most likely first)", map(_said, wrong)
    )
    blamed = dict.fromkeys(a for line in wrong for a in line["assumptions"])
    lines += bullets("Where to look", (f"{a}: {MEANING[a]}" for a in blamed))
    lines += bullets("What cannot be told", [_said(x) for x in told["lines"] if x["verdict"] == "cannot tell"])
    lines += bullets("Notes", [*_about_spreads(told), *told["notes"]])
    return "\n".join([*lines, "", *wrapped(f"Caution: {told['caution']}", "", "  ")])


def _row(line: Object) -> Iterator[str]:
    name = f"{line['item']}: {line['quantity']}"
    if len(name) > 46:
        yield name
        name = ""
    values = (
        _value(line, "measured"),
        _value(line, "model"),
        _value(line, "difference", "+"),
        _value(line, "spread"),
    )
    mark = {"agrees": "agrees", "contradicts": "NO", "cannot tell": "unsure"}[line["verdict"]]
    yield f"{name:<47}{values[0]:>11}{values[1]:>11}{values[2]:>12}{values[3]:>10}  {mark}"


def _value(line: Object, key: str, sign: str = "") -> str:
    value = line[key]
    if value is None or isinstance(value, str):
        return value or "-"
    unit, factor, digits = SHOWN[line["unit"]]
    return f"{factor * value:{sign}.{digits}f} {unit}"


def _said(line: Object) -> str:
    remark = f"; {line['remark']}" if line["remark"] else ""
    named = ", ".join(line["assumptions"])
    return f"{line['item']}, {line['quantity']}{': ' + named if named else ''}{remark}"


def _about_spreads(told: Object) -> Iterator[str]:
    yield f"A line agrees when it is off by no more than {SURE:g} spreads (standard deviations)."
    if any(line["spread_assumed"] for line in told["lines"]):
        yield (
            "Spreads not stated were taken as 0.05 kg dry, 0.1 kg in water, 1 cm, 0.5 s, 0.4 kg of a float's lead "
            "and 2 N m: what careful reading of ordinary tools is good for (assumed). Write your own: "
            '"2.62 +- 0.02 kg".'
        )
    if any(line["quantity"].startswith("time") for line in told["lines"]):
        yield "The spread of the time holds 20 % of the model's own, for added inertia and the flow of gas."
