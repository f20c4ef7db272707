"""How to wear a plate so that it passes: the entry ``set_up`` of ``hangflat.fit/1``, and what is said of it.

as_worn, nearest   drop_m, shift_m (of the cylinders, plus headward), flat_moment_nm, and margins of each demand (m;
                   of look-ahead degrees), null where nothing is near or no way leads there
nearest            besides: shoulder_strap_m, and still_fails, the subjects of verdicts that fail even so; the same
                   as as_worn where that passes, null where no set-up does
barred_by          then the fewest demands that no set-up meets together
tried              least and greatest drop_m and shift_m that were tried
told               all of it as a sentence
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from scenarios.quantities import SI
from sim.answers.fit.answer import FitAnswer
from sim.answers.fit.demands import BUTTOCKS, LOOK_AHEAD, REACH
from sim.answers.fit.set_up import SetUp, SetUps
from sim.assembly.back_cylinders import BAND_BELOW_SHOULDER

SAME: Final = 5e-4  # m, below the shown digits
NAMES: Final = {REACH: "valve reach"}


@dataclass(frozen=True, eq=False)
class SetUpFit:
    """What was found, the answers as worn, and those for the nearest set-up: all of them, worked out in full."""

    found: SetUps
    as_worn: FitAnswer
    nearest: FitAnswer | None


def set_up_changes(wanted: SetUp, worn: SetUp) -> dict[str, SI]:
    """What of a case is varied to wear a rig as wanted which is now as worn.

    Nothing is said of cylinders that stay where they are: there may be none.
    """
    moved = {} if wanted.shift == worn.shift else {"cylinders.shift": SI(wanted.shift)}
    return {"harness.drop": SI(wanted.drop), **moved}


def set_up_json(fit: SetUpFit) -> dict[str, Any]:
    """The entry ``set_up``; see above."""
    found = fit.found
    return {
        "as_worn": _set_up(found.as_worn, fit.as_worn),
        "nearest": None if found.nearest is None or fit.nearest is None else _nearest(found.nearest, fit.nearest),
        "barred_by": list(found.barred_by),
        "tried": {"drop_m": list(found.drops), "shift_m": list(found.shifts)},
        "told": set_up_sentence(fit),
    }


def _set_up(found: SetUp, answer: FitAnswer) -> dict[str, Any]:
    return {
        "drop_m": found.drop,
        "shift_m": found.shift,
        "margins": {name: _margin(name, m) for name, m in found.margins.items()},
        "flat_moment_nm": answer.look_ahead.flat_moment,
    }


def _nearest(found: SetUp, answer: FitAnswer) -> dict[str, Any]:
    return _set_up(found, answer) | {
        "shoulder_strap_m": answer.on_back.straps.shoulder,
        "still_fails": _failing(answer),
    }


def _margin(name: str, margin: float) -> float | None:
    told = math.degrees(margin) if name == LOOK_AHEAD else margin
    return told if math.isfinite(told) else None


def _failing(answer: FitAnswer) -> list[str]:
    return [v.subject for v in answer.verdicts if v.passes is False]


def set_up_sentence(fit: SetUpFit) -> str:
    """What to change, and what comes of it; or what rules every set-up out."""
    found, answer = fit.found, fit.nearest
    if found.nearest is None or answer is None:
        return _barred(found)
    demands = _listed([NAMES.get(name, name) for name in found.as_worn.margins])
    if found.nearest is found.as_worn:
        return f"worn as it is, {demands} pass{_except(answer)}"
    changes = _changes(found.as_worn, found.nearest, answer.on_back.straps.shoulder)
    then, now = (_turning(a.look_ahead.flat_moment) for a in (answer, fit.as_worn))
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
    tried = f"no height with the strap on the waist{bands if BUTTOCKS in found.as_worn.margins else ''} will do"
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
