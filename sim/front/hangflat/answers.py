"""The answers about one diver as functions of a case. What works them out is imported when it is first asked for."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Literal

from hangflat.origins import answer_made_by

if TYPE_CHECKING:
    from sim.answers.change.answer import ChangeAnswer
    from sim.answers.compare.compared import Comparison
    from sim.answers.later.answer import LaterAnswer
    from sim.answers.later.empty_answer import EmptyAnswer
    from sim.answers.posture.told import PostureAnswer
    from sim.answers.seen.answer import SeenAnswer
    from sim.answers.settle.answer import SettleAnswer
    from sim.answers.weigh.answer import WeighAnswer
    from sim.answers.why.answer import WhyAnswer
    from sim.case import Case


def load(path: str | os.PathLike[str], settings: Iterable[str] = ()) -> Case:
    """Read a scenario or parts file (TOML).

    settings : KEY=VALUE texts put in place of what the file says, as behind ``--set``: 'cylinders.pressure="50 bar"'
    ``vary`` of what comes back does the same by a table of keys and gives another case; person and rig are worked
    out when they are first needed, a person once for all cases that say the same of them.
    Raises ScenarioError with every problem found.
    """
    from sim.case import Case

    return Case.read(path, settings)


def as_json(answer: Any) -> dict[str, Any]:
    """An answer as the object that the command prints with ``--json``: units in the keys, angles in degrees."""
    from sim.telling.record import as_json as told

    return told(answer)


def settle(
    case: Case,
    *,
    roll: Literal["held", "free"] = "held",
    surface: bool = False,
    uncertain: bool = False,
    workers: int = 1,
) -> SettleAnswer:
    """How the diver hangs when they hold flat and stop moving: ``hangflat.settle/1``.

    roll : whether the diver keeps level from side to side on the way to rest
    surface : fills ``surface``, how the diver floats with wing blown up and limbs relaxed; not of a parts file
    uncertain : fills ``uncertain``, bands of 5 to 95 % and what makes them wide
    workers : processes for ``uncertain``; more than one needs a script guarded by ``if __name__ == "__main__"``
    ``flat`` holds the trimming moment [N m, plus turns head-up] and the stiffnesses [N m/rad, plus is stable],
    ``rest`` every free equilibrium by pitch and roll [rad], ``items`` what each weighs in the water [kg, plus sinks].
    Raises ScenarioError for what cannot be built.
    """
    from sim.answers.settle.report import report_of
    from sim.answers.settle.told import settle_answer

    afloat = spread = None
    report = report_of(case.assembled, roll)
    if surface:
        from sim.answers.settle.afloat.surface import surface_report, surface_told

        afloat = surface_told(surface_report(case))
    if uncertain:
        from sim.answers.settle.uncertain import uncertain_told
        from sim.uncertainty.uncertain_settle import uncertain_settle

        spread = uncertain_told(uncertain_settle(case, workers=workers))
    return replace(settle_answer(report, afloat, spread), made_by=answer_made_by({None: case}))


def why(case: Case) -> WhyAnswer:
    """Which item turns the diver held flat: ``hangflat.why/1``.

    ``items`` holds apparent weight [kg, plus sinks], arm [m, plus toward the head] and moment [N m, plus turns
    head-up] of each, the largest moment first; the moments add up to ``flat.pitch_moment``.
    Raises ScenarioError for what cannot be built.
    """
    from sim.answers.why.answer import why_answer

    return replace(why_answer(case), made_by=answer_made_by({None: case}))


def posture(case: Case) -> PostureAnswer:
    """What a relaxed diver's posture can hold: ``hangflat.posture/1``.

    ``posture`` holds ``held``, what the moment [N m, plus turns head-up] asks of the diver, ``levers``, what knees,
    hips, arms, head and breath make up, and ``flat_knee``, the bend of the knees [rad] that hangs flat.
    Raises ScenarioError for what cannot be built, and for a parts file.
    """
    from sim.answers.posture.told import posture_answer

    return replace(posture_answer(case), made_by=answer_made_by({None: case}))


def seen(case: Case, sights: Sequence[str], tests: Sequence[str] = ()) -> SeenAnswer:
    """Which cause is behind how a diver is seen to hang: ``hangflat.seen/1``.

    sights : each as typed behind ``--also``, "20 deg head-up; finning; fins down"; what was otherwise than in the
        file behind it, as "; pressure=60 bar; gaiters=no". Tests are of the first.
    tests : what came of them, as typed behind ``--test``: "freeze: head-down in 5 s"
    ``causes`` holds each with its probability, the likeliest first, ``test`` the next one in the water.
    Raises ScenarioError for what cannot be built, and for a parts file; ValueError for what is no sight or outcome.
    """
    from sim.answers.seen.answer import seen_answer
    from sim.answers.seen.typed import outcome_of, sight_of

    if not sights:
        raise ValueError('no sight is told; give one or more, like ["20 deg head-up; finning; fins down"]')
    told = seen_answer(case, [sight_of(s) for s in sights], [outcome_of(t) for t in tests])
    return replace(told, made_by=answer_made_by({None: case}))


def change(case: Case, also_in: Sequence[Literal["sea", "fresh"]] = ()) -> ChangeAnswer:
    """What to change so that the diver is weighted right and hangs flat, start and end: ``hangflat.change/1``.

    ``advice`` is the fewest changes that do it, or the best of what is at hand, what they cost elsewhere, and what it
    comes to: moment [N m, plus turns head-up], wing gas [m^3] and net buoyancy [kg, plus floats]; ``changes`` every
    one by itself. The ``settings`` of either are what ``vary`` takes.
    also_in : other water in which the diver is to hang flat too, weighted for it
    Raises ScenarioError for what cannot be built, and for a parts file.
    """
    from sim.answers.change.answer import change_answer
    from sim.answers.change.report import change_report

    return replace(change_answer(change_report(case, waters=also_in)), made_by=answer_made_by({None: case}))


def compare(*cases: Case) -> Comparison:
    """Two to five divers side by side, each against the first: ``hangflat.compare/1``.

    ``divers`` holds what each comes to, ``differences`` what the files say otherwise, ``against`` what each differing
    table does when it alone is put into the first [N m, plus turns head-up].
    Raises ScenarioError for what cannot be built, ValueError for another number of cases.
    """
    from sim.answers.compare.compared import MOST, compared

    if not 2 <= len(cases) <= MOST:
        raise ValueError(f"compare takes 2 to {MOST} cases, got {len(cases)}")
    return replace(compared(cases), made_by=answer_made_by(cases))


def weigh(case: Case, **how: Any) -> WeighAnswer:
    """How much lead makes the diver neutral at the last stop, and what that leaves: ``hangflat.weigh/1``.

    how : ``depth`` [m], ``pressure`` [Pa, as the gauge shows], ``breath`` and ``suit_gas`` ("vented", "comfortable"
        or m^3), where the diver is not to be weighed at 4 m with 50 bar, breathing quietly, the suit vented
    ``waters`` holds the lead [kg] in the file's water, sea and fresh, and the start with it; ``failures`` what is
    left to swim up [kg, plus sinks] when one thing fails; ``sure`` the bands of 5 to 95 %.
    Raises ScenarioError for what cannot be built or weighed so.
    """
    from sim.answers.weigh.conditions import Conditions
    from sim.answers.weigh.report import weigh_answer

    return replace(weigh_answer(case, Conditions(**how)), made_by=answer_made_by({None: case}))


def later(case: Case) -> LaterAnswer:
    """How the diver hangs later in the dive, by the file's [later] or a plain course: ``hangflat.later/1``.

    ``points`` holds depth [m], pressures [Pa], gas of wing and suit [m^3], moment [N m, plus turns head-up] moment by
    moment, and what was breathed, let in and let out so far [kg].
    Raises ScenarioError for what cannot be built, a parts file, and gas that does not last.
    """
    from sim.answers.later.answer import later_answer

    return replace(later_answer(case), made_by=answer_made_by({None: case}))


def empty(case: Case, to: str = "10 bar") -> EmptyAnswer:
    """How the diver hangs as the cylinders on the back empty: ``hangflat.empty/1``.

    to : pressure at the end, as the gauge shows, with its unit
    ``points`` holds moment [N m, plus turns head-up], stiffnesses [N m/rad], wing gas [m^3] and net buoyancy [kg,
    plus floats] at each pressure [Pa].
    Raises ScenarioError for what cannot be built, a parts file, and cylinders that are emptier; ValueError for a text
    that is no pressure.
    """
    from scenarios.units import parse
    from sim.answers.later.empty_answer import empty_answer
    from sim.answers.later.empty_report import empty_report

    told = empty_answer(empty_report(case, parse("pressure", to, "10 bar")))
    return replace(told, made_by=answer_made_by({None: case}))
