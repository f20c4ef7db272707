"""What an instructor reads: the objects of ``settle --json`` and ``why --json`` as plain text, 100 columns wide."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from sim.answers.settle.afloat.text import surface_lines
from sim.answers.settle.uncertain_text import uncertain_lines
from sim.telling.common_lines import closing_lines, moment_lines, title_lines
from sim.telling.drawn_plate import drawn_plate_lines
from sim.telling.lead_words import like_lead
from sim.telling.words import (
    attitude_words,
    heavy_or_light,
    moment_words,
    pitch_words,
    rows,
    wrapped,
)

Object = Mapping[str, Any]
SMALL_STIFFNESS: Final = 0.05  # N m/rad, below the shown digits


def settle_text(report: Object) -> str:
    """Text of a ``hangflat.settle/1`` object: a drawn plate and the trimming moment first, the caution last."""
    lines = [
        *drawn_plate_lines(report.get("drawn_plate")),
        *moment_lines(report["flat"]["pitch_moment_nm"]),
        *title_lines(report),
        *rows("How the diver comes to rest", _rest_rows(report)),
        *rows(_freeze_heading(report), _freeze_rows(report)),
        *rows("How stable, when flat", _stiffness_rows(report["flat"])),
        *rows("Weight and gas, when flat", _weight_rows(report)),
        *rows("If the suit were otherwise", _sensitivity_rows(report)),
        *surface_lines(report.get("surface")),
        *uncertain_lines(report.get("uncertain")),
        *closing_lines(report),
    ]
    return "\n".join(lines)


def why_text(report: Object) -> str:
    """Text of a ``hangflat.why/1`` object: what each item does to the diver held flat, largest moment first."""
    moment = report["flat"]["pitch_moment_nm"]
    lines = [
        *drawn_plate_lines(report.get("drawn_plate")),
        *moment_lines(moment),
        *title_lines(report),
        "",
        *budget_table(report["items"], moment),
        "",
        *wrapped(
            "Apparent weight: plus sinks. Arm: how far headward of the point the moments are taken about. "
            "Moment: plus turns head-up."
        ),
        *closing_lines(report),
    ]
    return "\n".join(lines)


def budget_table(items: Sequence[Object], total: float) -> list[str]:
    """One aligned line for each item and one for the sum of moments ``total`` [N m]."""
    width = max([len("item"), *(min(len(i["name"]), 44) for i in items)])
    lines = [f"{'item':<{width}}  {'apparent weight':>16}  {'arm':>9}  {'moment':>11}", "-" * (width + 42)]
    lines += [
        f"{i['name'][:44]:<{width}}  {i['apparent_weight_kg']:>+13.2f} kg  {i['arm_m']:>+7.3f} m"
        f"  {i['moment_nm']:>+7.2f} N m"
        for i in items
    ]
    return [*lines, "-" * (width + 42), f"{'together':<{width}}  {'':>16}  {'':>9}  {total:>+7.2f} N m"]


def _rest_rows(report: Object) -> Iterator[tuple[str, str]]:
    for held in report["held"]:
        yield (
            "kept from rolling",
            f"{pitch_words(held['pitch_deg'])}{'' if held['stable'] else ' (would not stay there)'}",
        )
    if report.get("indifferent"):
        yield "kept from rolling", "at any pitch: nothing turns the diver"
        yield "free to roll", "in any attitude"
        return
    if not report["held"]:
        yield "kept from rolling", "no rest between standing upright and standing on the head"
    stable = [e for e in report["rest"] if e["kind"] == "stable"]
    for rest in stable:
        yield "free to roll", attitude_words(rest["pitch_deg"], rest["roll_deg"])
    if not stable:
        yield "free to roll", "no attitude of rest stands out"
    for settled in (report["settled"], report.get("settled_roll_free")):
        if settled and (settled is report["settled"] or settled["roll"] != report["settled"]["roll"]):
            yield "after stopping flat", _settled_words(settled)


def _settled_words(settled: Object) -> str:
    """How the motion from flat ends, and when."""
    how = "kept from rolling" if settled["roll"] == "held" else "free to roll"
    where = attitude_words(settled["pitch_deg"], settled["roll_deg"])
    after = f"{'at least ' if settled.get('time_is_least') else ''}{settled['time_s']:.0f} s"
    if settled["reached"]:
        return f"{how}: at rest after {after}, {where}"
    if settled["outcome"] == "past the vertical":
        way = "head-up" if settled["pitch_deg"] > 0 else "head-down"
        vertical = "upright" if way == "head-up" else "standing on the head"
        return f"{how}: tips {way}, past {vertical}, onto the back; after {after} {where}"
    return f"{how}: still moving after {settled['time_s']:.0f} s, {where}"


def _freeze_heading(report: Object) -> str:
    rolling = bool(report["settled"]) and report["settled"]["roll"] == "free"
    return f"Freeze test: flat, then motionless ({'free to roll' if rolling else 'kept from rolling'})"


def _freeze_rows(report: Object) -> Iterator[tuple[str, str]]:
    for drift in (report["settled"] or {}).get("freeze_test", ()):
        yield f"after {drift['time_s']:.0f} s", attitude_words(drift["pitch_deg"], drift["roll_deg"])


def _stiffness_rows(flat: Object) -> Iterator[tuple[str, str]]:
    for axis in ("pitch", "roll"):
        stiffness = flat[f"{axis}_stiffness_nm_per_rad"]
        turn = abs(stiffness) * math.radians(10.0)
        if abs(stiffness) < SMALL_STIFFNESS:
            meaning = "neither: turned by 10 degrees, the diver stays so"
        elif stiffness > 0:
            meaning = f"stable: turned by 10 degrees, {turn:.1f} N m{like_lead(turn)} turn back"
        else:
            meaning = f"unstable: turned by 10 degrees, {turn:.1f} N m{like_lead(turn)} turn further"
        taken = flat.get(f"gas_takes_from_{axis}_stiffness_nm_per_rad", 0.0)
        gas = f" (moving gas takes {taken:.1f} N m/rad)" if taken > SMALL_STIFFNESS else ""
        yield axis, f"{stiffness:+.1f} N m/rad, {meaning}{gas}"


def _weight_rows(report: Object) -> Iterator[tuple[str, str]]:
    whole, water = report["whole"], report["water"]
    yield "mass", f"{whole['mass_kg']:.1f} kg with all gear and gas"
    yield "water displaced", f"{whole['volume_l']:.1f} l of {water['density_kg_m3']:.0f} kg/m^3"
    yield "net buoyancy", heavy_or_light(whole["net_buoyancy_kg"])
    yield "gas in the wing", f"{whole['wing_gas_l']:.1f} l"
    yield "gas in the suit", f"{whole['suit_gas_l']:.1f} l{_suit_words(report)}"
    yield "pressure", f"{water['pressure_pa'] / 1e5:.2f} bar absolute"


def _suit_words(report: Object) -> str:
    """What the suit's gas comes from, and what it leaves of the squeeze on the back, as a depth of water."""
    suit = report.get("suit")
    if suit is None:
        return ""
    if suit["back_squeeze_pa"] is None:
        return f", {suit['gas_from']}"
    water = report["water"]
    squeeze = 100.0 * suit["back_squeeze_pa"] / (water["density_kg_m3"] * water["gravity_m_s2"])
    if abs(squeeze) < 0.5:
        back = "not squeezed"
    else:
        back = (
            f"squeezed as by {squeeze:.0f} cm of water"
            if squeeze > 0.0
            else f"lifted as by {-squeeze:.0f} cm of water"
        )
    return f", {suit['gas_from']}; the back is {back}"


def _sensitivity_rows(report: Object) -> Iterator[tuple[str, str]]:
    for case in report.get("sensitivity", ()):
        moment, stiffness = case["pitch_moment_nm"], case["pitch_stiffness_nm_per_rad"]
        yield case["change"], f"{moment_words(moment)}{like_lead(moment)}; pitch {stiffness:+.1f} N m/rad"
