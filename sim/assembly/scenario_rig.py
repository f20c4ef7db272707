"""A rig from a scenario: the person posed and dressed, the plate laid on the back, all else put where it is worn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.gear.wing_bag import WingBag, wing_bag
from meshes.kept import kept_few
from meshes.mesh import Mesh
from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import standard_plate_shape
from meshes.solid import combined
from scenarios.back_gear import Wing
from scenarios.loose_gear import StageCylinder
from scenarios.models import Scenario
from scenarios.suit import DrySuit, Wetsuit
from sim.assembly.assembled import Assembled, Looks, Mobility, WingLooks, Worn
from sim.assembly.back_cylinders import BackCylinders, on_back
from sim.assembly.back_plate import plate_from
from sim.assembly.diver import person_from, plainly, pose_from
from sim.assembly.drawn_plate import drawn_plate, plate_doubt
from sim.assembly.dry_suit import UNDER_STRAPS, OverSuit, WornDrySuit, worn_dry_suit
from sim.assembly.harness import worn_harness
from sim.assembly.learnt import learnt_effects, learnt_note, with_effects, with_learnt_values
from sim.assembly.loose_gear import Spots, carried_item, slung_cylinder
from sim.assembly.placement import Placement, inside, placement, point_at, solid_at
from sim.assembly.regulators import worn_first_stages, worn_regulators
from sim.assembly.seat import seated
from sim.assembly.shell import Flags
from sim.assembly.strap_length import drop_of_strap
from sim.assembly.suit_cut import NarrowSuitError
from sim.assembly.suit_gas import suit_skin, under_plate, with_suit_gas
from sim.assembly.surroundings import inside_density, surroundings
from sim.assembly.wet_suit import worn_neoprene
from sim.assembly.worn import worn_fins
from sim.assembly.worn_lead import Bearers, worn_lead
from sim.assembly.worn_wing import worn_wing
from sim.breathing_gas import AIR
from sim.fill_laws import logistic_law
from sim.person.posed_body import PosedBody, posed_body
from sim.rig import Part, Pocket, Water, rig_of

# limbs in two at knee and elbow: bent, they reach where no single solid does
SEGMENT_GROUPS: Final = (
    ("head and neck", ("head",)),
    ("trunk with lungs", ("lower trunk", "middle trunk", "upper trunk")),
    ("left upper arm", ("left upper arm",)),
    ("right upper arm", ("right upper arm",)),
    ("left forearm with hand", ("left forearm", "left hand")),
    ("right forearm with hand", ("right forearm", "right hand")),
    ("left thigh", ("left thigh",)),
    ("right thigh", ("right thigh",)),
    ("left lower leg with foot", ("left shank", "left foot")),
    ("right lower leg with foot", ("right shank", "right foot")),
)
PRESSED: Final = 0.35  # of an undergarment's loft left between plate and back (assumed)


class UnbuildableError(ValueError):
    """A scenario that reads well but cannot be built; ``key`` is the table or entry to blame."""

    def __init__(self, key: str, message: str) -> None:
        self.key = key
        super().__init__(message)


@contextmanager
def _blaming(key: str) -> Iterator[None]:
    """Turn a ValueError from a shape or a body into one that names the key of the file."""
    try:
        yield
    except UnbuildableError:
        raise
    except ValueError as error:
        raise UnbuildableError(key, str(error)) from error


@dataclass(frozen=True, eq=False)
class _Base:
    """What everything else is put on: water, posed body, plate, its placement and drop, clothing on the trunk [m]."""

    water: Water
    body: PosedBody
    plate: Plate
    seat: Placement
    drop: float
    padding: float
    under_plate: Flags


@dataclass(frozen=True, eq=False)
class Wearer:
    """A scenario's person in its pose, and the names of what was estimated of them."""

    body: PosedBody
    estimated: tuple[str, ...]


def wearer_of(scenario: Scenario, like: Wearer | None = None) -> Wearer:
    """The posed person of a scenario; ``like`` is the same person, made already, in another pose.

    Raises UnbuildableError, naming the key, for a body or pose that cannot be.
    """
    scenario = with_learnt_values(scenario)
    with _blaming("diver"):
        person, estimated = person_from(scenario.diver) if like is None else (like.body.person, like.estimated)
    with _blaming("pose"):
        return Wearer(posed_body(person, pose_from(scenario.pose)), estimated)


def assembled_scenario(
    scenario: Scenario, name: str, notes: Sequence[str] = (), wearer: Wearer | None = None
) -> Assembled:
    """Rig of a scenario; ``wearer`` is its person, already made, where many rigs are laid on one.

    Raises UnbuildableError, naming the key, for gear or bodies that cannot be.
    """
    told = [*notes, *learnt_note(scenario.learnt)]
    effects = learnt_effects(scenario)
    scenario = with_learnt_values(scenario)
    made = wearer_of(scenario) if wearer is None else wearer
    body, estimated = made.body, made.estimated
    told += [_sentence(plainly(n)) for n in body.person.notes]
    base = _base(scenario, body)
    parts = [*_body_parts(body)]
    dry: WornDrySuit | None = None
    if isinstance(scenario.suit, DrySuit):
        with _blaming("suit"):
            try:
                over = OverSuit(base.under_plate, scenario.harness is not None, scenario.fins is not None)
                dry = worn_dry_suit(scenario.suit, body, base.water, over)
            except NarrowSuitError as error:
                raise UnbuildableError(f"suit.widths.{error.place}", str(error)) from error
        parts += dry.parts
    if scenario.suit is not None:
        parts += worn_neoprene(scenario.suit, body, base.water)
    cylinders = _on_back(scenario, base)
    parts += _back_gear(scenario, base, cylinders, told)
    bag, wing_at, wing = _wing(scenario.wing, base, inside_density(AIR, base.water, scenario.water.temperature))
    if bag is not None and scenario.wing is not None:
        parts.append(worn_wing(scenario.wing, bag, wing_at, body))
    rig = rig_of(parts, base.water, wing=wing)
    if dry is not None and isinstance(scenario.suit, DrySuit):
        rig, vented = with_suit_gas(rig, dry, scenario, body)
        told += [] if vented is None else [vented]
        gas_estimated = ("suit gas",) if isinstance(scenario.suit.gas, str) else ()
        estimated = (*estimated, *gas_estimated, "softness and room of the suit")
    rig = with_effects(rig, effects)
    looks = Looks(
        skin=body.drawing,
        suit=None if dry is None else suit_skin(dry, scenario),
        wing=None if bag is None else WingLooks(bag, wing_at),
        mouth=body.landmarks["mouth"],
        segments=_segments(body),
    )
    drawn = drawn_plate(scenario.plate, base.plate)
    told += [] if drawn is None else [plate_doubt(doubt) for doubt in drawn.reading.doubts]
    worn = _worn(scenario, base, cylinders)
    return Assembled(rig, scenario.title or name, estimated, tuple(told), looks, worn, drawn)


def _worn(scenario: Scenario, base: _Base, cylinders: BackCylinders | None) -> Worn | None:
    """What the answers on fit need; None unless a plate is worn."""
    if scenario.plate is None:
        return None
    table = scenario.cylinders
    stages: tuple[Part, ...] = ()
    if table is not None and cylinders is not None:
        stages = worn_first_stages(table.regulators, cylinders)
    fit = scenario.fit
    return Worn(
        body=base.body,
        plate=base.plate,
        seat=base.seat,
        padding=PRESSED * base.padding,
        under_straps=UNDER_STRAPS * base.padding,
        clothing=base.padding,
        hood=0.0 if scenario.suit is None else scenario.suit.hood_thickness,
        drop=base.drop,
        shift=0.0 if table is None else table.shift,
        cylinders=cylinders,
        first_stages=stages,
        mobility=Mobility(
            fit.shoulder_bulk, fit.neck_bulk, fit.stiff_left_shoulder, fit.stiff_right_shoulder, fit.elbow_bulk
        ),
    )


def _drop(scenario: Scenario, plate: Plate, body: PosedBody, padding: float) -> float:
    """How far the plate's waist slots hang below the natural waist [m], told outright or by the straps' length."""
    harness = scenario.harness
    if harness is None or harness.shoulder_strap is None:
        return 0.0 if harness is None else harness.drop
    with _blaming("harness.shoulder_strap"):
        return drop_of_strap(harness.shoulder_strap, plate, body, PRESSED * padding, UNDER_STRAPS * padding)


def _base(scenario: Scenario, body: PosedBody) -> _Base:
    with _blaming("water"):
        water = surroundings(scenario.water)
    with _blaming("plate"):
        plate = plate_of(standard_plate_shape(), 1.0) if scenario.plate is None else plate_from(scenario.plate)
    padding = _padding(scenario.suit)
    drop = _drop(scenario, plate, body, padding)
    seat = seated(plate, body, PRESSED * padding, drop)
    pressed = np.zeros(len(body.skin.area), dtype=bool)
    if scenario.plate is not None:
        pressed = under_plate(body, plate, seat)
    return _Base(water, body, plate, seat, drop, padding, pressed)


def _padding(suit: DrySuit | Wetsuit | None) -> float:
    """Thickness [m] of what is worn on the trunk."""
    if suit is None:
        return 0.0
    if isinstance(suit, Wetsuit):
        return suit.thickness
    return suit.thickness + (suit.undergarment.loft if suit.undergarment is not None else 0.001)


@kept_few
def _body_parts(body: PosedBody) -> tuple[Part, ...]:
    """The diver as items; the gas in the lungs belongs to the trunk."""
    solids = dict(body.segments)
    parts = []
    for name, members in SEGMENT_GROUPS:
        group = [solids[m] for m in members]
        parts.append(Part(name, "body", combined([*group, body.lungs] if name.startswith("trunk") else group)))
    return tuple(parts)


@kept_few
def _segments(body: PosedBody) -> tuple[tuple[str, Mesh], ...]:
    """Each segment's outside with the name of its item."""
    solids = dict(body.segments)
    pairs = [(name, solids[m].mesh) for name, members in SEGMENT_GROUPS for m in members]
    return tuple((name, mesh) for name, mesh in pairs if mesh is not None)


def _on_back(scenario: Scenario, base: _Base) -> BackCylinders | None:
    if scenario.cylinders is None:
        return None
    with _blaming("cylinders"):
        return on_back(scenario.cylinders, base.plate, base.seat, scenario.water.temperature)


def _back_gear(scenario: Scenario, base: _Base, cylinders: BackCylinders | None, told: list[str]) -> list[Part]:
    """Plate, harness, cylinders, regulators, fins, lead and all else; adds sentences to ``told``."""
    parts: list[Part] = []
    if scenario.plate is not None:
        parts.append(Part("plate", "plate", solid_at(base.seat, base.plate.solid)))
    if scenario.harness is not None:
        parts.append(worn_harness(scenario.harness, base.plate, base.seat, base.body, UNDER_STRAPS * base.padding))
    if scenario.cylinders is not None and cylinders is not None:
        parts += [*cylinders.parts, *worn_regulators(scenario.cylinders.regulators, cylinders, base.body)]
    if scenario.fins is not None:
        with _blaming("fins"):
            parts += worn_fins(scenario.fins, base.body)
    bearers = Bearers(base.body, base.plate, base.seat, cylinders, _waist(base))
    for i, lead in enumerate(scenario.lead):
        with _blaming(f"lead.{i}"):
            part, note = worn_lead(lead, bearers)
        parts.append(part)
        told += [] if note is None else [_sentence(note)]
    return parts + _gear(scenario, base)


def _gear(scenario: Scenario, base: _Base) -> list[Part]:
    marks = base.body.landmarks
    spots = Spots(
        body=base.body,
        waist=float(marks["waist back"][0]),
        half_breadth=0.5 * base.body.person.measures["hipbreadth"] + base.padding,
        front=float(marks["sternum"][2]) - base.padding,
        back=float(marks["sacrum"][2]) + base.padding,
    )
    parts: list[Part] = []
    for i, item in enumerate(scenario.gear):
        with _blaming(f"gear.{i}"):
            if isinstance(item, StageCylinder):
                parts += slung_cylinder(item, spots, scenario.water.temperature)
            else:
                parts.append(carried_item(item, spots))
    return parts


def _waist(base: _Base) -> tuple[float, float, float, float]:
    """x, z of the middle, breadth and depth [m] of the waist over the suit."""
    front, back = base.body.landmarks["navel"], base.body.landmarks["waist back"]
    breadth = base.body.person.measures["waistbreadth"] + 2.0 * base.padding
    depth = float(back[2] - front[2]) + 2.0 * base.padding
    return float(back[0]), 0.5 * float(front[2] + back[2]), breadth, depth


def _wing(table: Wing | None, base: _Base, gas_density: float) -> tuple[WingBag | None, Placement, Pocket | None]:
    """The bag, where it lies (on the plate's back), and its gas."""
    where = _behind(base.seat, base.plate.thickness)
    if table is None:
        return None, where, None
    with _blaming("wing"):
        bag = wing_bag(
            table.cylinders, lift_volume=table.capacity, height=table.length, width=table.width, mass=table.mass
        )
    law = logistic_law(np.zeros(len(bag.capacity)), bag.capacity, table.softness)
    gas = None if table.gas == "neutral" else float(table.gas)
    return bag, where, Pocket("wing", point_at(where, bag.cells), law, gas, gas_density, table.gas_time)


@kept_few
def _behind(seat: Placement, thickness: float) -> Placement:
    """Of the frame of a bag that lies on the plate's back."""
    return inside(seat, placement([0.0, 0.0, thickness]))


def _sentence(text: str) -> str:
    """Capital first, full stop last."""
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")
