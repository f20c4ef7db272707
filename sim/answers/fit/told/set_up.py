"""How to wear a plate so that it passes: what is told of it, and as a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.fit.answer import FitAnswer
from sim.answers.fit.demands.cylinder_bottoms import CYLINDER_BOTTOMS
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.set_up import SetUp, SetUps
from sim.assembly.back_cylinders import BAND_BELOW_SHOULDER
from sim.said import amount, known, note, word
from sim.telling.listed import listed
from sim.telling.record import Told

SAME: Final = 5e-4  # m, below the shown digits
NAMES: Final = {VALVE_REACH.name: word("valve reach")}
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
    demands = listed([known(NAMES.get(name, name)) for name in found.as_worn.margins])
    if found.nearest is found.as_worn:
        return note("worn as it is, {demands} pass{but}", demands=demands, but=_except(answer))
    changes = _changes(found.as_worn, found.nearest, answer.straps.shoulder)
    then, now = (_turning(a.look_ahead.flat_moment) for a in (answer, worn))
    if now != then:
        turns = note("held flat, {then} turn the diver, {now} as worn", then=then, now=now)
    else:
        turns = note("held flat, {then} turn the diver, as before", then=then)
    return note(
        "{changes}, {demands} pass{but}; {turns}", changes=changes, demands=demands, but=_except(answer), turns=turns
    )


def _changes(worn: SetUp, other: SetUp, strap: float) -> str:
    """What is done to get from one set-up to another, whose shoulder straps are ``strap`` long [m]."""
    words = []
    lower, higher = other.drop - worn.drop, worn.shift - other.shift
    if abs(lower) > SAME:
        size, straps = _cm(lower), _cm(strap)
        if lower > 0.0:
            words.append(note("the rig {size} lower (shoulder straps of {straps})", size=size, straps=straps))
        else:
            words.append(note("the rig {size} higher (shoulder straps of {straps})", size=size, straps=straps))
    if abs(higher) > SAME:
        if higher > 0.0:
            words.append(note("the bands {size} higher on the cylinders", size=_cm(higher)))
        else:
            words.append(note("the bands {size} lower on the cylinders", size=_cm(higher)))
    return note("with {changes}", changes=listed(words))


def _except(answer: FitAnswer) -> str:
    """What fails even so."""
    failing = _failing(answer)
    if not failing:
        return ""
    names = listed([known(name) for name in failing])
    return (
        note(" ({names} still fails)", names=names)
        if len(failing) == 1
        else note(" ({names} still fail)", names=names)
    )


def _barred(found: SetUps) -> str:
    high, low = (BAND_BELOW_SHOULDER + shift for shift in found.shifts)
    if CYLINDER_BOTTOMS.name in found.as_worn.margins:
        tried = note(
            "no height with the strap on the waist, and no place of the bands from {high} to {low} below the "
            "cylinders' shoulders, will do",
            high=_cm(high),
            low=_cm(low),
        )
    else:
        tried = note("no height with the strap on the waist will do")
    names = [known(NAMES.get(name, name)) for name in found.barred_by]
    if len(names) == 1:
        return note("{tried}: {name} fails with all of them", tried=tried, name=names[0])
    return note("{tried}: none meets {names} together", tried=tried, names=listed(names))


def _turning(moment: float) -> str:
    size = amount(abs(moment), "N m", 0)
    return note("{size} head-up", size=size) if moment > 0.0 else note("{size} head-down", size=size)


def _cm(length: float) -> str:
    return amount(100.0 * abs(length), "cm", 1)
