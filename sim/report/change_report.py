"""``hangflat change``: what to change about the diver of a file, as an object."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.reading import read_file
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file, wearer_from_file
from sim.assembly.scenario_rig import Wearer
from sim.changes.candidates import AT_HAND, WITH_GEAR, Candidate, Kind, candidates
from sim.changes.together import Tried, together
from sim.fit.answer import fit_answer
from sim.fit.limits import TRIMMED
from sim.report.caution import CAUTION
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, flat_answer

FORMAT: Final = "hangflat.change/1"
LITRE: Final = 1e-3
PROVED: Final = 12  # sets of changes that are worked out in full before the best of them is told

Track = Callable[[Sequence[Candidate]], Iterable[Candidate]]


@dataclass(frozen=True, eq=False)
class Advice:
    """A set of changes worked out in full; ``moment``, ``wing_gas``, ``net_buoyancy`` as of ``Tried``."""

    changes: tuple[Candidate, ...]
    moment: float
    wing_gas: float
    net_buoyancy: float


@dataclass(frozen=True, eq=False)
class ChangeReport:
    """The rig as it is, every change by itself, and the best set of them; None where nothing betters it.

    advice : with what is at hand;  with_gear : with other gear, where that does not reach balance
    left_out : words of changes that cannot be made on this rig, and why
    """

    assembled: Assembled
    flat: FlatAnswer
    tried: tuple[Tried, ...]
    advice: Advice | None
    with_gear: Advice | None
    left_out: tuple[tuple[str, str], ...]


def change_report(path: Path, settings: Sequence[str] = (), track: Track = iter) -> ChangeReport:
    """Try every change on the diver of a scenario file.

    track : goes over the changes, showing how far it got
    Raises ScenarioError for input that cannot be read, and for a parts file, which says nothing of gear.
    """
    content = read_file(path, settings).content
    if not isinstance(content, Scenario):
        raise ScenarioError([Problem(str(path), "a parts file has no gear to change: give a scenario file")])
    wearer = wearer_from_file(path, settings)
    base = assembled_from_file(path, settings, wearer)
    flat = flat_answer(soft_rig(base.rig))
    failing = _failing(base)
    tried, left_out = [], []
    for what in track(candidates(content, flat.suit_gas)):
        try:
            tried.append(_tried(path, settings, wearer, what, failing))
        except ScenarioError as wrong:
            left_out.append((what.words, wrong.problems[0].message))
    asked = _Asked(path, tuple(settings), wearer, flat.pitch_moment, tuple(tried), failing)
    advice = _advice(asked, AT_HAND)
    balanced = abs(flat.pitch_moment if advice is None else advice.moment) <= TRIMMED
    with_gear = None if balanced else _advice(asked, WITH_GEAR)
    return ChangeReport(base, flat, tuple(tried), advice, with_gear, tuple(left_out))


def _tried(
    path: Path, settings: Sequence[str], wearer: Wearer | None, what: Candidate, failing: tuple[str, ...]
) -> Tried:
    posed = what.kind == "pose"  # whoever is held otherwise has to be built anew
    made = assembled_from_file(path, (*settings, *what.settings), None if posed else wearer)
    flat = flat_answer(soft_rig(made.rig))
    now = _failing(made) if what.fit else failing
    return Tried(
        what=what,
        moment=flat.pitch_moment,
        wing_gas=flat.wing_gas,
        net_buoyancy=flat.net_buoyancy,
        fails=tuple(name for name in now if name not in failing),
        mends=tuple(name for name in failing if name not in now),
    )


def _failing(assembled: Assembled) -> tuple[str, ...]:
    """What of the fit fails; nothing is said without plate and harness."""
    if assembled.worn is None or not any(p.kind == "harness" for p in assembled.rig.parts):
        return ()
    return tuple(v.subject for v in fit_answer(assembled).verdicts if v.passes is False)


@dataclass(frozen=True, eq=False)
class _Asked:
    """What sets of changes are worked out from; ``moment`` and ``failing`` : as the file has it."""

    path: Path
    settings: tuple[str, ...]
    wearer: Wearer | None
    moment: float
    tried: tuple[Tried, ...]
    failing: tuple[str, ...]


def _advice(asked: _Asked, kinds: Sequence[Kind]) -> Advice | None:
    """The first set that holds what it promises, else the nearest to nothing of those worked out."""
    if abs(asked.moment) <= TRIMMED:
        return None
    best: Advice | None = None
    for chosen in together(asked.moment, asked.tried, TRIMMED, kinds)[:PROVED]:
        found = _proved(asked, chosen)
        if found is None or not abs(found.moment) < abs(asked.moment if best is None else best.moment):
            continue
        best = found
        if abs(found.moment) <= TRIMMED:
            break
    return best


def _proved(asked: _Asked, chosen: Sequence[Tried]) -> Advice | None:
    """A set worked out in full; None where together they break the fit, or cannot be made."""
    settings = (*asked.settings, *(s for t in chosen for s in t.what.settings))
    try:
        made = assembled_from_file(asked.path, settings, asked.wearer)
    except ScenarioError:
        return None
    if any(t.what.fit for t in chosen) and set(_failing(made)) - set(asked.failing):
        return None
    flat = flat_answer(soft_rig(made.rig))
    return Advice(tuple(t.what for t in chosen), flat.pitch_moment, flat.wing_gas, flat.net_buoyancy)


def change_json(report: ChangeReport) -> dict[str, Any]:
    """``hangflat.change/1``: moments N m, plus head-up, held flat about the held point."""
    now = report.flat.pitch_moment
    return {
        "format": FORMAT,
        "title": report.assembled.title,
        "pitch_moment_nm": now,
        "within_nm": TRIMMED,
        "advice": _advice_json(report.advice),
        "with_gear": _advice_json(report.with_gear),
        "changes": [_tried_json(t, now) for t in sorted(report.tried, key=lambda t: abs(t.moment))],
        "left_out": [{"what": what, "why": why} for what, why in report.left_out],
        "estimated": list(report.assembled.estimated),
        "notes": list(report.assembled.notes),
        "caution": CAUTION,
    }


def _advice_json(advice: Advice | None) -> dict[str, Any] | None:
    if advice is None:
        return None
    return {
        "changes": [c.words for c in advice.changes],
        "settings": [s for c in advice.changes for s in c.settings],
        "pitch_moment_nm": advice.moment,
        "reaches": abs(advice.moment) <= TRIMMED,
        "wing_gas_l": advice.wing_gas / LITRE,
        "net_buoyancy_kg": advice.net_buoyancy,
    }


def _tried_json(tried: Tried, now: float) -> dict[str, Any]:
    return {
        "what": tried.what.words,
        "kind": tried.what.kind,
        "settings": list(tried.what.settings),
        "pitch_moment_nm": tried.moment,
        "difference_nm": tried.moment - now,
        "wing_gas_l": tried.wing_gas / LITRE,
        "net_buoyancy_kg": tried.net_buoyancy,
        "then_fails": list(tried.fails),
        "then_passes": list(tried.mends),
    }
