"""How a diver afloat may lie: on the back, upright, face down, on the side; what each asks to be held, and where it
leads when left alone.

Limbs are limp, the head is tipped as a diver does it (``tipped_head``).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from math import radians
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.assembly.afloat import WING_GAS, DiverAfloat
from sim.assembly.limp_joints import angles_of
from sim.assembly.tipped_head import following, mouth_height
from sim.floating.articulated import Articulated, at_angles
from sim.floating.energy import gas_state, hull_under
from sim.floating.limp import Follow, Limp, limp_from
from sim.person.pose import symmetric_pose

Name = Literal["face up", "upright", "face down", "on the side"]
X, Y, Z = np.eye(3)
# world-up in body axes, and the body axis the diver may still turn about while held so: none for upright
HELD: Final[dict[Name, tuple[Floats, Floats | None]]] = {
    "face up": (np.array([0.05, 0.0, -1.0]), Y),
    "upright": (X, None),
    "face down": (np.array([0.05, 0.0, 1.0]), Y),
    "on the side": (np.array([0.05, 1.0, 0.0]), Z),
}
SIDEWAYS: Final = 0.26  # sine of 15 degrees: within this of level the face looks neither up nor down
FACES: Final[dict[Name, str]] = {
    "face up": "up",
    "upright": "forward",
    "face down": "down",
    "on the side": "to the side",
}
NUDGE: Final = radians(3.0)  # off the attitude from which a diver is left alone
SAME: Final = radians(10.0)  # rests as near to each other, or to the other's mirror image, count as one: limp arms
# come to rest in more than one place
LEANS_DEG: Final = (10.0, 30.0, 50.0, 70.0)  # back from the vertical
ROLLS_DEG: Final = (60.0, 120.0, 150.0)  # from face up; 90 is "on the side"
TIPPED: Final = radians(10.0)  # to a side, from lying on the back
SEARCHES: Final = 2 * len(HELD) + len(LEANS_DEG) + len(ROLLS_DEG) + 2
# where relaxed limbs come to hang, nearly: a start
RELAXED: Final = symmetric_pose(
    shoulder_abduction=radians(40.0), elbow_flexion=radians(70.0), hip_flexion=radians(25.0),
    hip_abduction=radians(20.0), knee_flexion=radians(18.0), ankle_plantarflexion=radians(25.0),
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Attitude:
    """A diver held as ``name`` says.

    mouth : height over the water [m]
    moment : by which weight and water turn the diver [N m]: upright about the hips, plus forward; else about the long
        axis, plus toward face up on the side, and toward the left side down on the back
    left_alone : number of the rest it leads to, among ``Attitudes.rests``; None if to none
    """

    name: Name
    held: Limp
    mouth: float
    moment: float
    left_alone: int | None


@dataclass(frozen=True, eq=False)
class Rest:
    """A rest that a limp diver comes to, the height of the mouth over the water [m], and what leads there."""

    limp: Limp
    mouth: float
    reached_from: tuple[Name, ...]


@dataclass(frozen=True, eq=False)
class Attitudes:
    """All ways of lying that a diver may be held in, and the rests they lead to, lowest energy first.

    sit_up : greatest moment [N m] against a diver who sits up from the back to upright; 0 where nothing resists
    tips_at : how far back from the vertical [rad] a diver must lean to be carried onto the back; None where upright
        is not pushed forward, or nothing carries back
    turn_up : greatest moment [N m] against a diver who turns from face down onto the back, over the side
    rights, rights_still : moment [N m] that brings back a diver on the back who is tipped by TIPPED to a side, limbs
        limp and limbs kept as they were; below 0 where it tips on
    """

    held: tuple[Attitude, ...]
    rests: tuple[Rest, ...]
    sit_up: float
    tips_at: float | None
    turn_up: float
    rights: float
    rights_still: float


def attitudes(diver: DiverAfloat, done: Callable[[float], None] | None = None) -> Attitudes | None:
    """All attitudes of a floating diver; None if the diver sinks.

    done : told the share of the work that is done, 0 to 1
    """
    search = _Search(diver, following(diver), done)
    start = angles_of(diver.body.joints, RELAXED)
    held: dict[Name, Limp] = {}
    for name, (up, about) in HELD.items():
        found = search(up, start, about=about, held=about is None)
        if found is None:
            return None
        held[name] = found
    rests, leads = _rests(search, held)
    leans, rolls = _leans(search, held), _rolls(search, held)
    return Attitudes(
        tuple(
            Attitude(name, limp, mouth_height(diver, limp), _moment(name, limp), leads[name])
            for name, limp in held.items()
        ),
        rests,
        sit_up=max(0.0, *(-m for _, m in leans)),
        tips_at=_crossing(leans),
        turn_up=max(0.0, *(-m for m in rolls)),
        rights=_rights(search, held["face up"]),
        rights_still=_rights(search, held["face up"], still=True),
    )


class _Search:
    """``limp_from`` for one diver, which tells how much of all is done."""

    def __init__(self, diver: DiverAfloat, follow: Follow, done: Callable[[float], None] | None) -> None:
        self.diver, self._follow, self._done, self._count = diver, follow, done, 0

    def __call__(
        self, up: Floats, angles: Floats, *, about: Floats | None = None, held: bool = False, still: bool = False
    ) -> Limp | None:
        """``limp_from``; still : with the limbs kept at ``angles``."""
        body, follow = (stiffened(self.diver.body, angles), None) if still else (self.diver.body, self._follow)
        found = limp_from(body, up, angles, about=about, held=held, follow=follow)
        self._count += 1
        if self._done is not None:
            self._done(min(1.0, self._count / SEARCHES))
        return found


def wing_push(diver: DiverAfloat, limp: Limp) -> float:
    """What the gas in the wing alone does to an upright diver, about the CM [N m], plus forward; 0 without."""
    body = at_angles(diver.body, limp.angles)
    push = np.zeros(3)
    for name, hull in zip(diver.names, body.hulls, strict=True):
        if name == WING_GAS:
            cut = hull_under(hull, limp.up, limp.level)
            push += body.density * body.gravity * np.cross(cut.first - cut.volume * body.cm, limp.up)
    for gas in body.gas:
        if gas.total is not None:
            state, share = gas_state(gas, limp.up, limp.level)
            lifted = state.volume[0] * share
            push += gas.bag.weight * np.cross(lifted @ (gas.cells - body.cm), limp.up)
    return float(push @ Y)


def face(up: Floats) -> str:
    """Which way the front looks, for world-up ``up`` (3,) in body axes: "up", "down", "forward" or "to the side"."""
    x, y, z = (abs(float(c)) for c in up)
    if z < SIDEWAYS or y > z:
        return "forward" if x > y else "to the side"
    return "up" if up[2] < 0.0 else "down"


def same_way(name: Name, up: Floats) -> bool:
    """Whether a diver with world-up ``up`` (3,) in body axes lies as the attitude's name says."""
    return face(up) == FACES[name]


def _moment(name: Name, limp: Limp) -> float:
    return float(limp.moment @ (Y if name == "upright" else X))


def _leans(search: _Search, held: dict[Name, Limp]) -> list[tuple[float, float]]:
    """(angle back from the vertical [rad], moment [N m] plus forward) of a diver held from upright to the back."""
    found, angles = [(0.0, _moment("upright", held["upright"]))], held["upright"].angles
    least = float(np.arccos(np.clip(held["face up"].up[0], -1.0, 1.0)))
    for lean in np.radians(LEANS_DEG):
        up = np.array([np.cos(lean), 0.0, -np.sin(lean)])
        limp = search(up, angles, held=True) if lean < least else None
        if limp is not None:
            angles = limp.angles
            found.append((float(lean), float(limp.moment @ Y)))
    return found


def _crossing(leans: list[tuple[float, float]]) -> float | None:
    """Where the moment turns from forward to back, by straight lines between the leans."""
    for (a, before), (b, after) in pairwise(leans):
        if before > 0.0 >= after:
            return a + (b - a) * before / (before - after)
    return None


def stiffened(body: Articulated, angles: Floats) -> Articulated:
    """The body with its joints kept at ``angles`` (j,)."""
    kept = [replace(j, low=float(a), high=float(a)) for j, a in zip(body.joints, angles, strict=True)]
    return replace(body, joints=tuple(kept))


def _rolled(search: _Search, roll: float, angles: Floats, *, still: bool = False) -> float | None:
    """Moment [N m] about the long axis, plus toward face up, of a diver rolled from face up, left side up."""
    up, axis = np.array([0.05, np.sin(roll), -np.cos(roll)]), np.array([0.0, np.cos(roll), np.sin(roll)])
    limp = search(up, angles, about=axis, still=still)
    return None if limp is None else float(limp.moment @ X)


def _rights(search: _Search, lying: Limp, *, still: bool = False) -> float:
    found = _rolled(search, TIPPED, lying.angles, still=still)
    return 0.0 if found is None else found


def _rolls(search: _Search, held: dict[Name, Limp]) -> list[float]:
    """Moments [N m] about the long axis, plus toward face up, of a diver held at rolls between face up and down."""
    side = held["on the side"]
    found = [_rolled(search, float(roll), side.angles) for roll in np.radians(ROLLS_DEG)]
    return [_moment("on the side", side), *(m for m in found if m is not None)]


def _rests(search: _Search, held: dict[Name, Limp]) -> tuple[tuple[Rest, ...], dict[Name, int | None]]:
    """Rests reached when each attitude is left alone, lowest energy first, and the number of the one for each.

    Of those that count as one, a stable one is told before an unstable one, the lowest first.
    """
    found: list[tuple[Limp, list[Name]]] = []
    for name, limp in held.items():
        rest = search(_nudged(limp), limp.angles)
        if rest is None:
            continue
        same = next((i for i, (other, _) in enumerate(found) if _alike(other.up, rest.up)), None)
        if same is None:
            found.append((rest, [name]))
        else:
            other, names = found[same]
            found[same] = (min(other, rest, key=lambda r: (not stays(r), r.energy)), [*names, name])
    found.sort(key=lambda pair: pair[0].energy)
    rests = tuple(Rest(limp, mouth_height(search.diver, limp), tuple(names)) for limp, names in found)
    return rests, {name: next((i for i, r in enumerate(rests) if name in r.reached_from), None) for name in held}


def stays(limp: Limp) -> bool:
    """Whether a rest is stable."""
    return limp.settled and limp.least_stiffness > 0.0


def _alike(one: Floats, other: Floats) -> bool:
    """Whether two rests count as one: as they are, or with left and right changed over."""
    return bool(max(one @ other, one @ (other * [1.0, -1.0, 1.0])) > np.cos(SAME))


def _nudged(limp: Limp) -> Floats:
    """The attitude turned a little the way it is pushed, and to the left."""
    way = np.cross(limp.up, limp.moment)
    size = float(np.linalg.norm(way))
    pushed = way / size if size > 1.0 else np.zeros(3)
    up = limp.up + NUDGE * (pushed + Y)
    return np.asarray(up / np.linalg.norm(up))
