r"""How much gas each place of a drysuit has room for: by its undergarment, and by the cut of a shell that does not
stretch.

Round a limb of girth g, a garment that holds a gas layer of thickness h fills a ring of g h + pi h^2 a length. A tube
of girth G over the same limb holds at most (G^2 - g^2)/4 pi a length, of gas and fibre. Where that is more than the
garment, the shell can lift off it (slack); where it is less, the shell is taut before the garment is relaxed, and
keeps on it the squeeze that van Wyk's law has at that thickness (``fill_laws.GarmentLaw``, preload). Girths G are
twice the flat widths that anyone takes with a tape; those that nobody took follow from garment and slack.

A leg is pulled on through its own ankle, boot or sock fixed to it or not: there the tube is at least as wide as heel
and instep, so that the shank of a suit without gaiters has room above the ankle, whatever it is worn over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body.measures import MeasureName, Measures
from meshes.mesh import Floats
from scenarios.suit import DrySuit, FlatWidths
from sim.assembly.shell import Flags, on_segments
from sim.person.skin import SkinPatches

BARE_LOFT: Final = 0.001  # m, gas in the folds of a shell worn with nothing under it (assumed)
HEEL: Final = 34.0 / 23.0  # girth of heel and instep over that of the ankle (34 and 23 cm, from memory)
NARROW: Final = 0.5  # of the slack that a suit has in its sleeves below the elbow and legs below the knee (assumed)
TIGHT: Final = 0.1  # of its room by which a taut shell still gives: puckered seams, tubes not round (assumed)
LEAST_ROOM: Final = 0.05  # of the relaxed garment: no suit that can be put on squeezes it further (assumed)

# Where a tape measures a limb, as a share of the segment from its upper end; and the body's girth there
Stations = tuple[tuple[float, str, MeasureName], ...]
LIMBS: Final[Mapping[str, Stations]] = {
    "thigh": ((0.1, "thigh", "thighcircumference"), (1.0, "knee", "lowerthighcircumference")),
    "shank": (
        (0.0, "knee", "lowerthighcircumference"), (0.3, "calf", "calfcircumference"),
        (0.95, "ankle", "anklecircumference"),
    ),
    "upper arm": ((0.5, "upper_arm", "bicepscircumferenceflexed"),),
    "forearm": ((0.25, "forearm", "forearmcircumferenceflexed"), (1.0, "cuff", "wristcircumference")),
}  # fmt: skip
TRUNK: Final[Mapping[str, Stations]] = {
    "upper trunk": ((0.5, "chest", "chestcircumference"),),
    "middle trunk": ((0.5, "waist", "waistcircumference"),),
    "lower trunk": ((0.5, "hips", "buttockcircumference"),),
}  # fmt: skip


class NarrowSuitError(ValueError):
    """A flat width that the diver cannot get into; ``place`` is its key."""

    def __init__(self, place: str, message: str) -> None:
        self.place = place
        super().__init__(message)


@dataclass(frozen=True, eq=False)
class Room:
    """Of n patches of skin: gas with the wall unloaded, and how far it goes on to blow up [m^3]; preload [Pa]."""

    loft: Floats
    slack: Floats
    preload: Floats


def room_of(suit: DrySuit, patches: SkinPatches, measures: Measures, stiffness: float) -> Room:
    """Room of each patch of a drysuit, before anything is strapped over it.

    measures : of the body [m];  stiffness : of the garment [Pa]. Raises NarrowSuitError for an impossible width.
    """
    loft, slack, preload = (np.zeros(len(patches.area)) for _ in range(3))
    for kind, stations in {**TRUNK, **LIMBS}.items():
        there = on_segments(patches, kind)
        share = suit.undergarment.on_limbs if kind in LIMBS and suit.undergarment is not None else 1.0
        layer = share * gas_thickness(suit)
        girths, most = _along(kind, stations, suit, layer, measures)
        at = patches.along[there]
        g = np.interp(at, [s[0] for s in stations], girths)
        t = np.interp(at, [s[0] for s in stations], most)
        relaxed = layer * (1.0 + np.pi * layer / g)
        kept = np.minimum(relaxed, np.maximum(t, LEAST_ROOM * relaxed))
        area = patches.area[there]
        loft[there] = area * kept
        slack[there] = area * np.maximum(t - kept, TIGHT * kept)
        preload[there] = stiffness * ((relaxed / kept) ** 3 - 1.0)
    _in_boots(suit, patches, loft, slack)
    return Room(loft, slack, preload)


def gas_thickness(suit: DrySuit) -> float:
    """Thickness of gas [m] in the relaxed undergarment: its loft less the fibres."""
    under = suit.undergarment
    if under is None:
        return BARE_LOFT
    return max(under.loft - fibre_thickness(suit), 0.1 * under.loft)


def fibre_thickness(suit: DrySuit) -> float:
    """Thickness [m] that the fibres alone would have."""
    under = suit.undergarment
    return 0.0 if under is None else under.mass_per_area / under.fibre_density


def pressed(room: Room, where: Flags, pressure: float, stiffness: float) -> Room:
    """The room with a strap of no stretch drawn over the patches ``where``, at ``pressure`` [Pa] on the garment."""
    drawn = np.where(where, np.maximum(pressure - room.preload, 0.0), 0.0)
    thinner = ((stiffness + room.preload) / (stiffness + room.preload + drawn)) ** (1.0 / 3.0)
    loft = room.loft * thinner
    return Room(loft, np.where(drawn > 0.0, TIGHT * loft, room.slack), room.preload + drawn)


def covered(room: Room, share: Floats, left: float) -> Room:
    """The room with a ``share`` (n,) of each patch pressed by gear to ``left`` of its loft and slack."""
    kept = 1.0 - share * (1.0 - left)
    return Room(room.loft * kept, room.slack * kept, room.preload)


def _along(kind: str, stations: Stations, suit: DrySuit, layer: float, measures: Measures) -> tuple[Floats, Floats]:
    """At each station: the body's girth [m], and the shell's room for gas over the skin's area [m]."""
    girths = np.array([measures[m] for _, _, m in stations])
    garment = layer * (1.0 + np.pi * layer / girths)
    slack = suit.slack * (NARROW if kind in ("shank", "forearm") else 1.0)
    most = garment + slack
    fibre = fibre_thickness(suit)
    for i, (_, place, measure) in enumerate(stations):
        around = _girth_of_shell(suit.widths, place, measures[measure])
        if around is not None:
            most[i] = _ring(around, girths[i]) - fibre
        elif place == "ankle":
            heel = suit.widths.heel_girth or HEEL * girths[i]
            most[i] = max(most[i], _ring(max(heel, girths[i]), girths[i]) - fibre)
    return girths, most


def _girth_of_shell(widths: FlatWidths, place: str, body: float) -> float | None:
    """Girth [m] of the shell where its width was measured."""
    width = getattr(widths, place)
    if width is None:
        return None
    if not 2.0 * width >= 0.9 * body:
        raise NarrowSuitError(
            place,
            f"a suit {100.0 * width:.1f} cm wide there is {200.0 * width:.0f} cm round, and the diver "
            f"{100.0 * body:.0f} cm: measure it flat from edge to edge, or check the diver's girths",
        )
    return float(2.0 * width)


def _ring(outer: float, inner: float) -> float:
    """Room between two round tubes by their girths [m], over the inner one's area [m]."""
    return (outer * outer - inner * inner) / (4.0 * np.pi * inner)


def _in_boots(suit: DrySuit, patches: SkinPatches, loft: Floats, slack: Floats) -> None:
    """Boots have a shape of their own: what they hold round the foot they hold, and hardly more."""
    foot = on_segments(patches, "foot")
    loft[foot] = patches.area[foot] * np.maximum(suit.boots_room * gas_thickness(suit), 1e-5)
    slack[foot] = TIGHT * loft[foot]
