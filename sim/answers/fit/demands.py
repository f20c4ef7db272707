"""What a rig at some height asks of one person, fast enough for a population.

The same rules and the same points as the answers for one diver (``on_back``, ``valve_reach``, ``look_ahead``), so
that both say the same; but gear is kept as points of the plate's frame, and only what these demands need is done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np

from meshes.body.pose import Pose
from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from sim.answers.fit.arm_chain import Arm, UpperArms, upper_arms
from sim.answers.fit.arm_reach import reach_margin, reaches
from sim.answers.fit.buttocks import Buttocks, buttocks, edge_points
from sim.answers.fit.gear_cloud import Cloud, Head, cloud_of, head_of, least_lift
from sim.answers.fit.head_lift import head_back, points_near
from sim.answers.fit.joint_ranges import neck_extension
from sim.answers.fit.limits import BUTTOCKS_GIVE, EASY_REACH, PLATE_ABOVE_BUTTOCKS, PLATE_BELOW_C7, WIDER_THAN_BACK
from sim.answers.fit.look_ahead import ahead_margin, looking_ahead, things_behind
from sim.answers.fit.reach import Side, cylinder_ends, in_the_way, knobs, left_arm, own_side, shoulder_lack
from sim.answers.fit.sight import upward_sight
from sim.answers.fit.straps import crossing
from sim.answers.fit.waist import waist_margin
from sim.answers.fit.width import width_left
from sim.assembly.assembled import Mobility, Worn
from sim.assembly.placement import Placement, point_at
from sim.assembly.seat import seated
from sim.assembly.strap_paths import over_shoulder
from sim.person.person import person_of
from sim.person.population import Drawn
from sim.person.posed_body import PosedBody, posed_body
from sim.person.trunk_skin import TrunkSkin, trunk_skin

T = TypeVar("T")
WAIST_STRAP: Final = "waist strap"
SHOULDER_STRAPS: Final = "shoulder straps"
LOOK_AHEAD: Final = "look-ahead"
REACH: Final = "reach"
PLATE_TOP: Final = "plate top"
PLATE_WIDTH: Final = "plate width"
PLATE_BOTTOM: Final = "plate bottom"
BUTTOCKS: Final = "cylinder bottoms"
SIDES: Final[tuple[Side, ...]] = ("left", "right")
HEAD_ROOM: Final = (0.12, 0.36)  # m to the side and about the neck's pivot where anybody's head may meet gear: heads
# reach 0.20 m from their pivot, and backs differ by 0.15 m in length
TILT_ROOM: Final = 0.05  # m more, since a plate hung elsewhere lies at another slope
FLANKS_EVERY: Final = 0.005  # m between the heights at which a trunk's breadth is kept


@dataclass(frozen=True, eq=False)
class HungRig:
    """A rig as it hangs on its plate, whoever wears it; points in the plate's frame [m].

    padding, under_straps : between back and plate, under the webbing [m]
    gear : what a head may meet: the plate itself, all that hangs on it
    knobs : (m, 3), with the hands for each
    cylinders : ends (k, 2, 3) of their middle lines;  radius : of a cylinder
    shift : of the cylinders from their usual place, plus headward
    low : (k, 3) points on the edges of cylinders and boots
    moved : how far headward cylinders, knobs and what else hangs on the plate are of where they are told above
    """

    name: str
    plate: Plate
    padding: float
    under_straps: float
    gear: tuple[Cloud, Cloud]
    knobs: Floats
    hands: tuple[tuple[Side, ...], ...]
    cylinders: Floats
    radius: float
    shift: float
    low: Floats
    moved: float = 0.0


@dataclass(frozen=True, eq=False)
class Dress:
    """How people are dressed and posed: thickness on the trunk and of the hood [m], what is taken off the joints."""

    clothing: float
    hood: float
    mobility: Mobility
    pose: Pose


@dataclass(frozen=True, eq=False)
class Wearer:
    """A person as far as the demands need them.

    arms : left and right, each as a left arm, no cylinders in its way;  alike : whether they are mirror images
    skin : of the standing trunk, for straps
    neck, eyes : how far the neck lifts the head, how far up the eyes look [rad]
    behind : their buttocks;  clothing : on the trunk [m]
    flanks : (2, n) heights, and half the trunk's breadth there [m]
    """

    body: PosedBody
    arms: dict[Side, Arm]
    alike: bool
    head: Head
    skin: TrunkSkin
    neck: float
    eyes: float
    behind: Buttocks
    clothing: float
    flanks: Floats


def hung_rig(name: str, worn: Worn, room: float | None = None) -> HungRig:
    """What ``worn`` wears, taken off its diver; for anybody, or to be moved by up to ``room`` [m] on this one.

    Room is counted from the natural waist, however low the rig is worn now.
    """
    middle = head_back(worn.body.person, worn.hood)
    aside, away = HEAD_ROOM if room is None else (middle.y[-1], middle.distance[-1] + room)
    wide = replace(
        middle,
        pivot=middle.pivot - [0.0, 0.0, TILT_ROOM],
        y=np.array([0.0, aside]),
        distance=np.array([0.0, away + 2.0 * TILT_ROOM]),
    )
    usual = seated(worn.plate, worn.body, worn.padding, 0.0)
    behind = (replace(m, vertices=point_at(usual, _taken_off(worn.seat, m.vertices))) for m in _meshes_behind(worn))
    plate, *hanging = (_taken_off(usual, points_near(wide, m)) for m in behind)
    found = knobs(worn)
    low = np.zeros((0, 3)) if worn.cylinders is None else edge_points(worn.cylinders)
    ends, radius = cylinder_ends(worn.cylinders)
    return HungRig(
        name=name,
        plate=replace(worn.plate, solid=replace(worn.plate.solid, mesh=None)),
        padding=worn.padding,
        under_straps=worn.under_straps,
        gear=(
            cloud_of(plate),
            cloud_of(np.concatenate([np.zeros((0, 3)), *hanging])),
        ),
        knobs=_taken_off(worn.seat, np.array([at for _, at, _ in found]).reshape(-1, 3)),
        hands=tuple(hands for _, _, hands in found),
        cylinders=_taken_off(worn.seat, ends),
        radius=radius,
        shift=worn.shift,
        low=_taken_off(worn.seat, low),
    )


def shifted(rig: HungRig, by: float) -> HungRig:
    """The same rig with its cylinders ``by`` [m] farther headward on the plate."""
    return replace(rig, shift=rig.shift + by, moved=rig.moved + by)


def _meshes_behind(worn: Worn) -> Iterator[Mesh]:
    """Of what a head may meet, the plate first."""
    things = sorted((p for _, p in things_behind(worn)), key=lambda p: p.kind != "plate")
    yield from (p.solid.mesh for p in things if p.solid.mesh is not None)


def _taken_off(seat: Placement, points: Floats) -> Floats:
    return np.asarray((points - seat.origin) @ seat.rotation)


def dress_of(worn: Worn) -> Dress:
    """As the diver of ``worn`` is dressed and posed."""
    return Dress(worn.clothing, worn.hood, worn.mobility, worn.body.pose)


def drawn_body(drawn: Drawn, pose: Pose) -> PosedBody:
    """Somebody drawn from the survey, posed. Raises ValueError for a body that cannot be."""
    return posed_body(person_of(drawn.sex, drawn.height, drawn.mass, measures=drawn.measures), pose)


def wearing(body: PosedBody, dress: Dress) -> Wearer:
    """A person dressed."""
    person = body.person

    lacks = {side: shoulder_lack(dress.mobility, side) for side in SIDES}
    return Wearer(
        body=body,
        arms={
            side: left_arm(
                person, lack, elbow_off=dress.mobility.elbow_bulk, clothing=dress.clothing, hood=dress.hood
            )
            for side, lack in lacks.items()
        },
        alike=lacks["left"] == lacks["right"],
        head=head_of(head_back(person, dress.hood)),
        skin=trunk_skin(person),
        neck=neck_extension(person, dress.mobility),
        eyes=upward_sight(person.age).looked_at,
        behind=buttocks(body),
        clothing=dress.clothing,
        flanks=_flanks(body),
    )


def _flanks(body: PosedBody) -> Floats:
    h = body.person.skeleton.heights
    x = np.arange(h["crotch"], h["acromion"], FLANKS_EVERY)
    return np.stack([x, body.person.shape.trunk.at(x, np.full(len(x), 0.5 * np.pi))[:, 1]])


def margins(rig: HungRig, who: Wearer, drops: Sequence[float]) -> dict[str, Floats]:
    """Margin (n,) of each demand at each drop [m], 0 or more where it is met: [m], of look-ahead [rad].

    Without cylinders nothing has to be reached.
    """
    rows = [_margins(rig, who, drop) for drop in drops]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


def _margins(rig: HungRig, who: Wearer, drop: float) -> dict[str, float]:
    seat = seated(rig.plate, who.body, rig.padding, drop)
    over = over_shoulder(rig.plate, seat, who.body, rig.under_straps, who.skin)
    return margins_at(rig, who, seat) | {
        SHOULDER_STRAPS: crossing(over, who.body.person).margin,
        PLATE_WIDTH: _width(rig, who, seat),
        PLATE_BOTTOM: float(point_at(seat, rig.plate.bottom)[0])
        - who.body.person.skeleton.heights["buttock"]
        - PLATE_ABOVE_BUTTOCKS,
    }


def margins_at(rig: HungRig, who: Wearer, seat: Placement) -> dict[str, float]:
    """Margins [m], of look-ahead [rad], of what height and bands decide, for a rig seated; of what there is."""
    return {name: MARGINS[name](rig, who, seat) for name in demands_on(rig)}


def demands_on(rig: HungRig) -> tuple[str, ...]:
    """What height and bands decide of a rig."""
    lacking = ({REACH} if not len(rig.knobs) else set()) | ({BUTTOCKS} if not len(rig.low) else set())
    return tuple(name for name in MARGINS if name not in lacking)


def met_at(name: str, rig: HungRig, who: Wearer, seat: Placement) -> bool:
    """Whether a margin of ``margins_at`` is 0 or more; of reach, that is told sooner than how much it is."""
    return within_reach(rig, who, seat) if name == REACH else MARGINS[name](rig, who, seat) >= 0.0


def plate_top_at(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """Margin [m] by which the plate ends below the neck of a rig seated."""
    return who.body.person.skeleton.heights["c7"] - float(point_at(seat, rig.plate.top)[0]) - PLATE_BELOW_C7


def buttocks_at(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """Margin [m] by which cylinders press less into the buttocks than these give; inf where they end above."""
    low = point_at(seat, rig.low + [rig.moved, 0.0, 0.0])
    return who.behind.off(low, who.clothing) + BUTTOCKS_GIVE


def _width(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """By how much [m] the back is wider than the plate, each side, where least."""
    person = who.body.person
    half = 0.5 * person.measures["interscyei"]
    return min(*width_left(rig.plate, seat, person.skeleton.heights, half, who.flanks)) + WIDER_THAN_BACK


def look_ahead_at(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """Margin [rad] of look-ahead of a rig seated."""
    gear = min(least_lift(who.head, cloud, at) for cloud, at in zip(rig.gear, (seat, _hung(rig, seat)), strict=True))
    return ahead_margin(gear, who.neck, looking_ahead(gear, who.neck, who.eyes))


def reach_at(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """Margin [m] of reach of a rig seated, which has cylinders."""
    margin = _by_hand(rig, who, seat, reach_margin)
    return min(max(margin(side, at) for side in hands) for at, hands in _knobs_at(rig, seat)) - EASY_REACH


def within_reach(rig: HungRig, who: Wearer, seat: Placement) -> bool:
    """Whether the margin of ``reach_at`` is 0 or more."""
    turned = _by_hand(rig, who, seat, lambda arm, at, arms: reaches(arm, at, EASY_REACH, arms))
    return all(any(turned(side, at) for side in hands) for at, hands in _knobs_at(rig, seat))


def _hung(rig: HungRig, seat: Placement) -> Placement:
    """Where lies what hangs on the plate, as it is moved on it."""
    return Placement(seat.rotation, seat.origin + rig.moved * seat.rotation[:, 0])


def waist_at(rig: HungRig, who: Wearer, seat: Placement) -> float:
    """How much farther [m] from the natural waist the strap could lie."""
    heights = who.body.person.skeleton.heights
    strap = float(point_at(seat, rig.plate.waist_slots)[:, 0].mean())
    return waist_margin(strap, heights["iliac crest"], heights["tenth rib"])


def _knobs_at(rig: HungRig, seat: Placement) -> Iterator[tuple[Floats, tuple[Side, ...]]]:
    return zip(point_at(_hung(rig, seat), rig.knobs), rig.hands, strict=True)


def _by_hand(
    rig: HungRig, who: Wearer, seat: Placement, told: Callable[[Arm, Floats, UpperArms], T]
) -> Callable[[Side, Floats], T]:
    """Function of a hand and a knob's place (3,): what is ``told`` of its arm, with the cylinders in its way."""
    ends = point_at(_hung(rig, seat), rig.cylinders)
    arms = {s: replace(a, bars=(*a.bars, *in_the_way(ends, rig.radius, s))) for s, a in who.arms.items()}
    tried = {"left": upper_arms(arms["left"])}
    tried["right"] = tried["left"] if who.alike else upper_arms(arms["right"])
    known: dict[tuple[bool, bytes], T] = {}

    def of(side: Side, at: Floats) -> T:
        own = own_side(side, at)
        key = who.alike or side == "left", np.round(own, 9).tobytes()  # a mirror image of what was tried already?
        if key not in known:
            known[key] = told(arms[side], own, tried[side])
        return known[key]

    return of


MARGINS: Final[Mapping[str, Callable[[HungRig, Wearer, Placement], float]]] = {
    WAIST_STRAP: waist_at,
    LOOK_AHEAD: look_ahead_at,
    REACH: reach_at,
    PLATE_TOP: plate_top_at,
    BUTTOCKS: buttocks_at,
}
