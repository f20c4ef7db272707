"""Line by line: measured, model, difference, and which assumption of the model a contradiction points to."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from scenarios.parts_file import PartsFile
from scenarios.table import Table
from sim.answers.check_bench.bench_file import Bench, BenchFile, End, Freeze, Item
from sim.answers.check_bench.predicted import Lump, Modelled, Sort, Turning, lump, modelled, turning
from sim.answers.check_bench.readings import Pool, Reading, readings_of
from sim.answers.check_bench.spreads import READING, TIME_MODEL
from sim.assembly.surroundings import surroundings
from sim.case import Case
from sim.said import amount, joined, known, note, word

Verdict = Literal["agrees", "contradicts", "cannot tell"]
Assumption = Literal[
    "item mass", "displaced volume", "position", "suit gas or garment", "lung gas", "body density", "motion"
]
Unit = Literal["kg", "m^3", "m", "s", "N m", ""]
WEIGHT: Final = word("weight in water")
SURE: Final = 2.0  # spreads apart: one honest measurement in twenty is farther off by chance
FILLING: Final[dict[Sort, tuple[Assumption, ...]]] = {
    "gear": ("displaced volume",),
    "suit": ("suit gas or garment",),
    "body": ("lung gas", "body density"),
}


@dataclass(frozen=True)
class Line:
    """One comparison, SI.

    item : what was measured, or "freeze";  quantity : e.g. "dry mass"
    measured, model, spread : SI numbers; None where words say it (``words``: measured, model)
    assumed_spread : the spread was not stated in the file
    assumptions : what a contradiction points to, most likely first;  remark : why, as a sentence
    """

    item: str
    quantity: str
    unit: Unit
    measured: float | None
    model: float | None
    spread: float | None
    assumed_spread: bool
    verdict: Verdict
    assumptions: tuple[Assumption, ...] = ()
    remark: str = ""
    words: tuple[str, str] | None = None


@dataclass(frozen=True)
class BenchAnswer:
    """All lines; density [kg/m^3] of the water of the weighings, None where nothing was weighed in water."""

    scenario: str
    title: str
    density: float | None
    lines: tuple[Line, ...]
    notes: tuple[str, ...]


def bench_answer(file: BenchFile, case: Case) -> BenchAnswer:
    """Compare a file of measurements with its scenario. Raises ScenarioError for either that cannot be used."""
    assembled = case.assembled
    model = modelled(assembled.rig)
    water = surroundings(file.bench.water).density if file.bench.water is not None else None
    lumps = [_lump(file, model, i) for i in range(len(file.bench.item))]
    lines = [line for i, one in zip(file.bench.item, lumps, strict=True) for line in item_lines(i, one, water)]
    if file.bench.freeze is not None:
        open_items = _unconfirmed(model, file.bench, lines)
        lines += freeze_lines(file.bench.freeze, turning(model.rig), model, lines, open_items)
    lines += pool_lines(file, case)
    return BenchAnswer(file.bench.scenario, assembled.title, water, tuple(lines), assembled.notes)


def _lump(file: BenchFile, model: Modelled, index: int) -> Lump:
    """The item's parts as one thing; raises ScenarioError for a part that the model does not have."""
    item = file.bench.item[index]
    known = [i.name for i in model.items]
    for number, name in enumerate(item.made_of):
        if name not in known:
            key = ("item", index, "parts", number) if item.parts else ("item", index, "name")
            near = difflib.get_close_matches(name, known, n=1)
            meant = f'; did you mean "{near[0]}"?' if near else ""
            raise file.fault(f'the model has no part "{name}"{meant} (it has: {", ".join(known)})', *key)
    whole = lump(model, item.made_of)
    if item.balance_point is not None and whole.balance(item.balance_from) is None:
        raise file.fault(
            f'the model knows no shape of it, so no {item.balance_from}: measure from the hips '
            '(balance_from = "hips")', "item", index, "balance_point",
        )  # fmt: skip
    return whole


_FROM: Final[dict[End, str]] = {
    "foot end": word("balance point from foot end"),
    "head end": word("balance point from head end"),
    "hips": word("balance point from hips"),
}


def item_lines(item: Item, model: Lump, density: float | None) -> Iterator[Line]:
    """Dry mass, displaced volume, weight in water of ``density`` [kg/m^3], balance point: whatever was measured."""
    dry = None
    if item.dry_mass is not None:
        dry = _line(item, item.name, word("dry mass"), "kg", "dry_mass", item.dry_mass, model.mass, ("item mass",))
        yield dry
    if item.wet_mass is not None and density is not None:
        yield from _wet_lines(item, model, density, dry)
    if item.balance_point is not None:
        at = model.balance(item.balance_from)
        if at is not None:
            quantity = _FROM[item.balance_from]
            yield _line(item, item.name, quantity, "m", "balance_point", item.balance_point, at, ("position",))


def _wet_lines(item: Item, model: Lump, density: float, dry: Line | None) -> Iterator[Line]:
    """Weight in water; with the dry mass known, the displaced volume too, which tells what is to blame."""
    wet = item.wet_mass
    if wet is None:
        return
    filling = FILLING[model.sort]
    apparent = model.mass - density * model.volume
    if dry is None or dry.measured is None or dry.spread is None:
        line = _line(item, item.name, WEIGHT, "kg", "wet_mass", wet, apparent, ("item mass", *filling))
        yield _remarked(line, word("weigh it dry as well: that tells its mass from the water it displaces"))
        return
    spread, assumed = _spread(item, "wet_mass")
    volume = (dry.measured - wet) / density
    volume_spread = math.hypot(dry.spread, spread) / density
    displaced = _judged(
        item.name, word("displaced volume"), "m^3", volume, model.volume, volume_spread, assumed, filling
    )
    if volume < -SURE * volume_spread:
        displaced = _remarked(
            displaced, word("heavier in water than in air, as nothing is: one of the two readings is wrong")
        )
    blame = [a for line in (dry, displaced) if line.verdict == "contradicts" for a in line.assumptions]
    yield _line(item, item.name, WEIGHT, "kg", "wet_mass", wet, apparent, tuple(blame) or ("item mass", *filling))
    yield displaced


def freeze_lines(
    freeze: Freeze, seen: Turning, model: Modelled, before: Sequence[Line], open_items: Sequence[str]
) -> Iterator[Line]:
    """Which way it turned and how fast. ``open_items``: heaviest in moment, not confirmed by a weighing."""
    moment, sd = model.flat.pitch_moment, model.moment_sd
    same = freeze.drift == seen.drift
    sure = abs(moment) > SURE * sd
    verdict: Verdict = "agrees" if same else "contradicts" if sure else "cannot tell"
    blame = _blamed(model, before, open_items)
    turns = amount(moment, "N m", 1, sign=True)
    remark: str = note("the model has a moment of {moment} when flat (plus turns head-up)", moment=turns)
    if same:
        remark = ""
    elif verdict == "cannot tell":
        remark = note(
            "the model has a moment of {moment} when flat (plus turns head-up), which is within what is unknown of "
            "any body's CB and CM (SD {sd})",
            moment=turns,
            sd=amount(sd, "N m", 1),
        )
    elif open_items:
        remark = note(
            "the model has a moment of {moment} when flat (plus turns head-up); not confirmed by a weighing, largest "
            "moment first: {items}",
            moment=turns,
            items=joined([known(name) for name in open_items]),
        )
    yield Line(
        word("freeze"),
        word("drift"),
        "",
        None,
        None,
        None,
        False,
        verdict,
        () if same else blame,
        remark,
        (freeze.drift, seen.drift),
    )
    time = freeze.time
    if time is None:
        return
    spread, assumed = freeze.time_spread(READING["time_to_30"])
    if seen.time_to_30 is None:
        never = word("the model does not turn that far")
        yield Line("freeze", word("time to 30 degrees"), "s", time, None, spread, assumed,
                   "contradicts" if sure or same else "cannot tell", blame, never)  # fmt: skip
        return
    both = math.hypot(spread, TIME_MODEL * seen.time_to_30)
    yield _judged("freeze", "time to 30 degrees", "s", time, seen.time_to_30, both, assumed,
                  (*blame, "motion"))  # fmt: skip


def pool_lines(file: BenchFile, case: Case) -> Iterator[Line]:
    """Neutral float and balancing lead; what is unknown of body and suit is not in these, so they contradict nothing.

    Raises ScenarioError for a parts file, which has no diver to put otherwise.
    """
    if not (file.bench.float or file.bench.balance):
        return
    content = case.content
    if isinstance(content, PartsFile):
        raise file.fault(
            "this belongs to a parts file; a float and a balancing lead need a scenario with a [diver]",
            "float" if file.bench.float else "balance",
        )  # fmt: skip
    pool = Pool(content, case.people)
    for reading in readings_of(file, pool):
        if reading.kind != "freeze":
            yield _pool_line(reading, pool)


def _pool_line(reading: Reading, pool: Pool) -> Line:
    told = reading.by(pool.rig(reading.situation))
    quantity, unit = _POOL[reading.kind]
    agrees = abs(reading.value - told) <= SURE * reading.sd
    remark = "" if agrees else word("hangflat calibrate weighs it against what is unknown of body and suit")
    return Line(
        reading.name, quantity, unit, reading.value, told, reading.sd, reading.assumed,
        "agrees" if agrees else "cannot tell", (), remark,
    )  # fmt: skip


_POOL: Final[dict[str, tuple[str, Unit]]] = {"float": (word("lead"), "kg"), "balance": (word("moment left"), "N m")}


def _blamed(model: Modelled, before: Sequence[Line], open_items: Sequence[str]) -> tuple[Assumption, ...]:
    """What a contradiction of the freeze test points to: first what the bench contradicts already."""
    found: list[Assumption] = [a for line in before if line.verdict == "contradicts" for a in line.assumptions]
    if model.rig.suit is not None:
        found.append("suit gas or garment")
    if any(i.kind == "body" for i in model.items):
        found += ["lung gas", "body density"]
    if open_items:
        found += ["position", "item mass", "displaced volume"]
    return tuple(dict.fromkeys(found))


def _unconfirmed(model: Modelled, bench: Bench, lines: Sequence[Line]) -> list[str]:
    """The three items of gear with the largest moments that no weighing in water has confirmed."""
    agreed = {line.item for line in lines if line.quantity == WEIGHT and line.verdict == "agrees"}
    confirmed = {name for item in bench.item if item.name in agreed for name in item.made_of}
    gear = [i for i in model.items if i.kind not in ("body", "suit gas", "wing gas") and i.name not in confirmed]
    return [i.name for i in sorted(gear, key=lambda i: -abs(i.moment))[:3]]


def _spread(table: Table, key: str) -> tuple[float, bool]:
    """Spread of a measurement, and whether it had to be assumed."""
    stated = table.spreads.get(key)
    return (READING[key], True) if stated is None else (stated, False)


def _line(
    item: Item, name: str, quantity: str, unit: Literal["kg", "m"], key: str, measured: float, model: float,
    assumptions: tuple[Assumption, ...],
) -> Line:  # fmt: skip
    spread, assumed = _spread(item, key)
    return _judged(name, quantity, unit, measured, model, spread, assumed, assumptions)


def _judged(
    name: str, quantity: str, unit: Literal["kg", "m^3", "m", "s"], measured: float, model: float, spread: float,
    assumed: bool, assumptions: tuple[Assumption, ...],
) -> Line:  # fmt: skip
    agrees = abs(measured - model) <= SURE * spread + 1e-9 * abs(model)
    verdict: Verdict = "agrees" if agrees else "contradicts"
    return Line(name, quantity, unit, measured, model, spread, assumed, verdict, () if agrees else assumptions)


def _remarked(line: Line, remark: str) -> Line:
    """The line with a remark where it contradicts."""
    return replace(line, remark=remark) if line.verdict == "contradicts" else line
