"""How to wear a plate so that it passes: what is told of it, and as a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.fit.answer import FitAnswer
from sim.answers.fit.demands.cylinder_bottoms import CYLINDER_BOTTOMS
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.set_up import SetUp, SetUps
from sim.assembly.back_cylinders import BAND_BELOW_SHOULDER
from sim.telling.record import Told

SAME: Final = 5e-4  # m, below the shown digits
NAMES: Final = {VALVE_REACH.name: "valve reach"}
Ends = tuple[float, float]


@dataclass(frozen=True, eq=False)
class SetUpWorn:
    """A set-up, and what comes of it."""

    set_up: Annotated[SetUp, Told("how the rig is worn", beside=True)]
    flat_moment: Annotated[float, Told("what turns the diver held flat", "N m", plus="head-up")]


@dataclass(frozen=True, eq=False)
class NearestSetUp(SetUpWorn):
    """One that meets every demand."""

    shoulder_strap: Annotated[float, Told("one shoulder strap, as in straps", "m")]
    still_fails: Annotated[tuple[str, ...], Told("subjects of verdicts that fail even so")]


@dataclass(frozen=True)
class Tried:
    """What was looked over."""

    drops: Annotated[Ends, Told("least, greatest of the drops tried, in steps of 2.5 mm", "m", key="drop_m")]
    shifts: Annotated[Ends, Told("least, greatest of the shifts tried", "m", key="shift_m")]


@dataclass(frozen=True, eq=False)
class SetUpFit:
    """How the rig is worn, and how it could be so that it passes."""

    as_worn: Annotated[SetUpWorn, Told("as the file has it")]
    nearest: Annotated[
        NearestSetUp | None,
        Told("the least change that meets every demand, as_worn itself where that does", none="nothing does"),
    ]
    barred_by: Annotated[
        tuple[str, ...], Told("where nearest is null, the fewest demands that no set-up meets together")
    ]
    tried: Annotated[Tried, Told("what was looked over")]
    told: Annotated[str, Told("all of it as a sentence")]


def set_up_fit(found: SetUps, as_worn: FitAnswer, nearest: FitAnswer | None) -> SetUpFit:
    """What is told of the set-ups found, with all answers as worn and for the nearest one."""
    best = found.nearest
    return SetUpFit(
        as_worn=SetUpWorn(found.as_worn, as_worn.look_ahead.flat_moment),
        nearest=None
        if best is None or nearest is None
        else NearestSetUp(best, nearest.look_ahead.flat_moment, nearest.straps.shoulder, _failing(nearest)),
        barred_by=found.barred_by,
        tried=Tried(found.drops, found.shifts),
        told=_sentence(found, as_worn, nearest),
    )


def _failing(answer: FitAnswer) -> tuple[str, ...]:
    return tuple(v.subject for v in answer.verdicts if v.passes is False)


def _sentence(found: SetUps, worn: FitAnswer, answer: FitAnswer | None) -> str:
    """What to change, and what comes of it; or what rules every set-up out."""
    if found.nearest is None or answer is None:
        return _barred(found)
    demands = _listed([NAMES.get(name, name) for name in found.as_worn.margins])
    if found.nearest is found.as_worn:
        return f"worn as it is, {demands} pass{_except(answer)}"
    changes = _changes(found.as_worn, found.nearest, answer.straps.shoulder)
    then, now = (_turning(a.look_ahead.flat_moment) for a in (answer, worn))
    turns = f"held flat, {then} turn the diver" + (f", {now} as worn" if now != then else ", as before")
    return f"{changes}, {demands} pass{_except(answer)}; {turns}"


def _changes(worn: SetUp, other: SetUp, strap: float) -> str:
    """What is done to get from one set-up to another, whose shoulder straps are ``strap`` long [m]."""
    words = []
    lower, higher = other.drop - worn.drop, worn.shift - other.shift
    if abs(lower) > SAME:
        words.append(f"the rig {_cm(lower)} {'lower' if lower > 0.0 else 'higher'} (shoulder straps of {_cm(strap)})")
    if abs(higher) > SAME:
        words.append(f"the bands {_cm(higher)} {'higher' if higher > 0.0 else 'lower'} on the cylinders")
    return f"with {' and '.join(words)}"


def _except(answer: FitAnswer) -> str:
    """What fails even so."""
    failing = _failing(answer)
    return f" ({_listed(failing)} still fail{'s' if len(failing) == 1 else ''})" if failing else ""


def _barred(found: SetUps) -> str:
    high, low = (BAND_BELOW_SHOULDER + shift for shift in found.shifts)
    bands = f", and no place of the bands from {_cm(high)} to {_cm(low)} below the cylinders' shoulders,"
    banded = CYLINDER_BOTTOMS.name in found.as_worn.margins
    tried = f"no height with the strap on the waist{bands if banded else ''} will do"
    names = [NAMES.get(name, name) for name in found.barred_by]
    if len(names) == 1:
        return f"{tried}: {names[0]} fails with all of them"
    return f"{tried}: none meets {_listed(names)} together"


def _turning(moment: float) -> str:
    return f"{abs(moment):.0f} N m head-{'up' if moment > 0.0 else 'down'}"


def _listed(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _cm(length: float) -> str:
    return f"{100.0 * abs(length):.1f} cm"
