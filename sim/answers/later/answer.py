"""What ``hangflat later`` says, as records: ``hangflat.later/1``. The diver is held flat; nothing is planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from sim.answers.later.along import Flows, Moment, moments
from sim.answers.later.course import Course, course_of
from sim.answers.later.emptying import ROUNDING, heavy_with_empty_wing
from sim.answers.later.loop import LOOP
from sim.answers.later.turned import rest_roll
from sim.answers.posture.posture import Held, Posture, held_words, posture_of
from sim.assembly.refilled import GasSource, gas_sources, main_sources
from sim.case import Case
from sim.rig import Kind, Rig
from sim.said import amount, note
from sim.statics.flat import moment_budget
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile
from sim.uncertainty.turning import rest_pitch

FORMAT: Final = "hangflat.later/1"
FOAMS: Final[frozenset[Kind]] = frozenset({"suit", "wetsuit", "hood", "gloves", "boots"})


@dataclass(frozen=True)
class LaterPoint:
    """The diver held flat at one moment."""

    time: Annotated[float, Told("time from the beginning", "min")]
    depth: Annotated[float, Told("depth of the diver", "m")]
    breathed_from: Annotated[str, Told('breathed from: "back" for the cylinders on the back, or the name of a stage')]
    pressure: Annotated[Mapping[str, float], Told("pressure, as the gauge shows", "bar", names="<source>")]
    left_behind: Annotated[tuple[str, ...], Told("names of stages that are not carried now")]
    gas: Annotated[float, Told("gas in the cylinders that are carried", "kg")]
    flows: Annotated[Flows, Told("gas since the beginning", beside=True)]
    wing_gas: Annotated[float, Told("gas in the wing at this depth", "l")]
    suit_gas: Annotated[float, Told("gas in the suit at this depth", "l")]
    foam_lift: Annotated[
        float, Told("buoyancy of suit, hood, gloves and boots without the gas in a drysuit", "kg", plus="floats")
    ]
    net_buoyancy: Annotated[float, Told("buoyancy of the whole", "kg", plus="floats")]
    heavy_with_empty_wing: Annotated[
        float | None,
        Told("weight in water with an empty wing", "kg", plus="sinks", none="no wing that is kept neutral"),
    ]
    pitch_moment: Annotated[float, Told("what turns the diver held flat", "N m", plus="head-up")]
    held: Annotated[Held, Told("what that moment asks of the diver, in the pose told")]
    pitch_stiffness: Annotated[float, Told("of that attitude in pitch, wing volume frozen", "N m/rad", plus="stable")]
    roll_moment: Annotated[float, Told("what rolls the diver held flat", "N m", plus="left side up")]
    roll_stiffness: Annotated[float, Told("of that attitude in roll, wing volume frozen", "N m/rad", plus="stable")]
    pitch: Annotated[
        float | None,
        Told("where the turning from flat ends, roll held", "deg", plus="head-up", none="past the vertical"),
    ]
    roll: Annotated[
        float | None,
        Told("where the rolling from flat ends, pitch held", "deg", plus="left side up", none="past the vertical"),
    ]


@dataclass(frozen=True)
class LaterItem:
    """An item whose moment changes."""

    name: Annotated[str, Told("the item")]
    first: Annotated[
        float, Told("moment at first, about the body point held then; 0 while left behind", "N m", plus="head-up")
    ]
    last: Annotated[float, Told("moment at last, about the same body point", "N m", plus="head-up")]


@dataclass(frozen=True, kw_only=True)
class LaterAnswer:
    """``hangflat.later/1``."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the scenario")]
    course: Annotated[str, Told("where depths and times come from, as a sentence")]
    course_is_told: Annotated[bool, Told("whether the file tells it, in [later]")]
    gas_use_l_per_min: Annotated[
        float, Told("gas breathed in a minute, as its volume is at the diver's depth, l/min")
    ]
    oxygen_use_l_per_min: Annotated[
        float | None,
        Told("oxygen that the body uses in a minute, dry, at 0 °C and one atmosphere, l/min", none="no rebreather"),
    ]
    points: Annotated[tuple[LaterPoint, ...], Told("moment by moment")]
    lightest: Annotated[int, Told("which of the points, from 0, is the one where the diver is lightest")]
    lead: Annotated[float, Told("lead worn all along, counted in every weight here", "kg")]
    holds_head_down: Annotated[
        float, Told("the largest moment head-down that posture holds, as the file has the diver", "N m")
    ]
    holds_head_up: Annotated[float, Told("the same head-up", "N m")]
    hangs_by_itself: Annotated[
        float, Told("up to which moment either way the diver hangs by themselves, as the file has them", "N m")
    ]
    changes: Annotated[tuple[LaterItem, ...], Told("items whose moment changes, the largest change first")]
    estimated: Annotated[tuple[str, ...], Told("what was estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("plain sentences")]
    caution: Annotated[str, Told("what every answer ends with")] = CAUTION
    chart: Annotated[WrittenFile | None, Told("the drawing", left_out=True)] = None
    table: Annotated[WrittenFile | None, Told("the numbers", left_out=True)] = None


def later_answer(case: Case) -> LaterAnswer:
    """The diver of a scenario as depth and gas change.

    Raises ScenarioError for a parts file, for what cannot be built, for a course that the gas does not last for, and
    for a diver without cylinders on the back where the file tells no course.
    """
    scenario = case.scenario("a parts file has no cylinders to breathe from: give a scenario file")
    sources = gas_sources(scenario)
    if scenario.later is None and scenario.rebreather is None and not main_sources(sources):
        message = (
            "there are no cylinders on the back or along the flanks to breathe from; add [cylinders], or say in "
            "[later] what is breathed"
        )
        raise ScenarioError([Problem(str(case.path), message, "cylinders")])
    course = course_of(scenario, sources, case.rig.water)
    along = moments(case, course, sources)
    posture = posture_of(case)
    points = tuple(_point(m, sources, posture) for m in along)
    return LaterAnswer(
        title=case.assembled.title,
        course=_course_words(course),
        course_is_told=course.told,
        gas_use_l_per_min=6e4 * course.gas_use,
        oxygen_use_l_per_min=None if scenario.rebreather is None else 6e4 * course.oxygen_use,
        points=points,
        lightest=int(np.argmax([_lightness(p) for p in points])),
        lead=sum(p.solid.mass for p in along[0].rig.parts if p.kind == "lead"),
        holds_head_down=posture.unseen + posture.all_up,
        holds_head_up=posture.unseen - posture.all_down,
        hangs_by_itself=posture.unseen,
        changes=_changes(along[0], along[-1]),
        estimated=case.assembled.estimated,
        notes=(*case.assembled.notes, *_notes(scenario, along[0].rig)),
    )


def _point(at: Moment, sources: Sequence[GasSource], posture: Posture) -> LaterPoint:
    flat = at.flat
    heavy = heavy_with_empty_wing(at.rig, flat)
    pitch, roll = rest_pitch(at.soft, flat.pitch_moment), rest_roll(at.soft, flat.roll_moment)
    return LaterPoint(
        time=at.time,
        depth=at.depth,
        breathed_from=at.breathed_from,
        pressure={s.name: at.pressure(s) for s in sources},
        left_behind=tuple(s.name for s in sources if s.name in at.away),
        gas=sum(m for s, m in at.masses.items() if s.name not in at.away),
        flows=at.flows,
        wing_gas=flat.wing_gas,
        suit_gas=flat.suit_gas,
        foam_lift=sum(at.rig.water.density * p.solid.volume - p.solid.mass for p in at.rig.parts if p.kind in FOAMS),
        net_buoyancy=flat.net_buoyancy,
        heavy_with_empty_wing=heavy if np.isfinite(heavy) else None,
        pitch_moment=flat.pitch_moment,
        held=held_words(flat.pitch_moment, posture),
        pitch_stiffness=flat.pitch_stiffness,
        roll_moment=flat.roll_moment,
        roll_stiffness=flat.roll_stiffness,
        pitch=pitch if np.isfinite(pitch) else None,
        roll=roll if np.isfinite(roll) else None,
    )


def _lightness(point: LaterPoint) -> float:
    return point.net_buoyancy if point.heavy_with_empty_wing is None else -point.heavy_with_empty_wing


def _course_words(course: Course) -> str:
    use = amount(6e4 * course.gas_use, "l/min", 0)
    deep, last = max(leg.end for leg in course.legs), course.legs[-1].end
    breathed = {leg.breathed for leg in course.legs}
    if LOOP in breathed:
        oxygen = amount(6e4 * course.oxygen_use, "l/min", 1)
        if not course.told:
            stay = max(leg.lasts for leg in course.legs if leg.start == leg.end)
            return note(
                "The file tells no [later], so a plain course is taken, which is no plan: down to {deep:g} m at "
                "18 m/min, {stay} there, up at 9 m/min, 3 min at {last:g} m, all on the rebreather; the body uses "
                "{oxygen} of oxygen.",
                deep=deep, stay=amount(stay / 60.0, "min", 0), last=last, oxygen=oxygen,
            )  # fmt: skip
        if breathed == {LOOP}:
            return note(
                "Depths and times as the file tells them in [later]; the body uses {oxygen} of oxygen.", oxygen=oxygen
            )
        return note(
            "Depths, times and gas as the file tells them in [later]; on the rebreather the body uses {oxygen} of "
            "oxygen, else {use} at the diver's depth are breathed.",
            oxygen=oxygen,
            use=use,
        )
    if course.told:
        return note(
            "Depths, times and gas as the file tells them in [later]; {use} at the diver's depth are breathed.",
            use=use,
        )
    plain = note(
        "The file tells no [later], so a plain course is taken, which is no plan: down to {deep:g} m at 18 m/min, "
        "there until the gas is that of the way up and 50 bar, up at 9 m/min, "
        "3 min at {last:g} m; {use} at the diver's depth are breathed",
        deep=deep,
        last=last,
        use=use,
    )
    if len(breathed) > 1:
        return note("{course}, by turns from the side-hung cylinders.", course=plain)
    return note("{course}.", course=plain)


def _changes(first: Moment, last: Moment) -> tuple[LaterItem, ...]:
    """What each item's moment about the first rig's held point was and becomes; items are told apart by name."""
    moved = first.rig.water.gravity * float(last.rig.held[0] - first.rig.held[0])
    then = {i.name: i.moment for i in moment_budget(first.soft, first.flat)}
    now = {i.name: i.moment - moved * i.apparent_weight for i in moment_budget(last.soft, last.flat)}
    found = [LaterItem(n, then.get(n, 0.0), now.get(n, 0.0)) for n in dict.fromkeys([*then, *now])]
    changed = [c for c in found if abs(c.last - c.first) > ROUNDING]
    return tuple(sorted(changed, key=lambda c: -abs(c.last - c.first)))


def _notes(scenario: Scenario, rig: Rig) -> Iterator[str]:
    if scenario.rebreather is not None:
        yield note(
            "The oxygen that the body uses is caught in the canister as carbon dioxide: nobody becomes lighter by "
            "it. The loop keeps its volume: diluent goes in on the way down, gas goes out into the water on the way "
            "up; wing and drysuit are fed from the diluent, too."
        )
    if rig.wing is not None and rig.wing.gas is not None:
        yield note("The wing's gas stays as the file says: it does not make up for the gas that is breathed.")
    if rig.suit is not None:
        yield note(
            "The drysuit is added to on the way down and vented on the way up, so that at each depth it holds "
            "what the file's suit.gas says."
        )
