"""Where the rig sits: waist strap, plate, shoulder straps and cylinder bottoms against the diver's own landmarks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from sim.answers.fit.buttocks import buttocks, edge_points
from sim.answers.fit.reach import hand_margin
from sim.answers.fit.straps import Straps, straps
from sim.answers.fit.waist import Place, strap_place
from sim.answers.fit.width import plate_widths, width_left
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.telling.record import Kept, Told

FLANKS: Final = 241  # heights along the plate at which the trunk's breadth is taken, 2 mm apart


@dataclass(frozen=True, eq=False)
class OnBack:
    """Heights x in body axes, and margins.

    crotch : height of the body's;  straps : told by themselves
    """

    place: Annotated[
        Place,
        Told(
            'where it runs: "on the waist", between hip bones and ribs, "above the waist" or "on the hips"',
            key="waist_strap",
        ),
    ]
    waist_strap: Annotated[float, Told("height of the waist slots, where the strap leaves the plate", "m")]
    waist: Annotated[
        float, Told("height midway between lowest rib and top of the hip bones", "m", key="natural_waist_m")
    ]
    crest: Annotated[float, Told("height of the top of the hip bones", "m", key="iliac_crest_m")]
    tenth_rib: Annotated[float, Told("height of the lowest rib", "m")]
    top: Annotated[float, Told("height of the plate's upper edge", "m", key="plate_top_m")]
    bottom: Annotated[float, Told("height of its lower edge", "m", key="plate_bottom_m")]
    c7: Annotated[float, Told("height of C7", "m")]
    acromion: Annotated[float, Told("height of the shoulders' bones", "m")]
    buttock: Annotated[float, Told("height of the fullest of the buttocks", "m", key="buttocks_m")]
    top_touched: Annotated[
        float,
        Told(
            "how much farther than the plate's upper edge the better hand reaches",
            "m",
            none="no way at all",
            key="hand_on_plate_margin_m",
        ),
    ]
    flank: Annotated[
        float,
        Told("by how much the trunk is wider than the plate, a side, where least", "m", key="flank_beyond_plate_m"),
    ]
    armpit: Annotated[
        float,
        Told(
            "the same between the folds of the armpits",
            "m",
            none="the plate ends below them",
            key="armpit_beyond_plate_m",
        ),
    ]
    cylinder_end: Annotated[
        float | None, Told("height of the lowest of the cylinders", "m", none="none are worn", key="cylinders_end_m")
    ]
    buttocks: Annotated[
        float | None,
        Told(
            "least distance of cylinders and boots from the clothed buttocks, below 0 they press in",
            "m",
            none="they end above them, or none are worn",
            key="cylinders_off_buttocks_m",
        ),
    ]
    crotch: Kept[float]
    straps: Kept[Straps]


def top_touched(worn: Worn) -> float:
    """By how much a hand over the shoulder gets beyond the plate's top edge [m]; see ``hand_margin``."""
    top = point_at(worn.seat, worn.plate.top)
    return max(hand_margin(worn, "left", top), hand_margin(worn, "right", top))


def on_back(worn: Worn, hand_on_plate: bool = True) -> OnBack:
    """Where the rig sits on the standing trunk; ``top_touched`` is nan unless ``hand_on_plate`` is asked for."""
    heights = worn.body.person.skeleton.heights
    strap = float(point_at(worn.seat, worn.plate.waist_slots)[:, 0].mean())
    crest, rib = heights["iliac crest"], heights["tenth rib"]
    top = point_at(worn.seat, worn.plate.top)
    touched = top_touched(worn) if hand_on_plate else float("nan")
    flank, armpit = _width_left(worn)
    end, buttocks = _over_buttocks(worn)
    return OnBack(
        waist_strap=strap, waist=heights["waist"], crest=crest, tenth_rib=rib, place=strap_place(strap, crest, rib),
        top=float(top[0]), bottom=float(point_at(worn.seat, worn.plate.bottom)[0]),
        c7=heights["c7"], acromion=heights["acromion"], buttock=heights["buttock"], crotch=heights["crotch"],
        top_touched=touched, flank=flank, armpit=armpit, cylinder_end=end, buttocks=buttocks,
        straps=straps(worn),
    )  # fmt: skip


def _width_left(worn: Worn) -> tuple[float, float]:
    """See ``width_left``; the trunk's breadth is taken at every height of the plate."""
    person = worn.body.person
    ends = [float(point_at(worn.seat, p)[0]) for p in (worn.plate.bottom, worn.plate.top)]
    x = np.linspace(min(ends) - 0.05, max(ends) + 0.05, FLANKS)
    flanks = np.stack([x, person.shape.trunk.at(x, np.full(len(x), 0.5 * np.pi))[:, 1]])
    half = 0.5 * person.measures["interscyei"]
    widths = plate_widths(worn.plate)
    along = point_at(worn.seat, widths.middle)[None, :, 0]
    flank, armpit = width_left(widths.half, along, person.skeleton.heights, half, flanks)
    return float(flank[0]), float(armpit[0])


def _over_buttocks(worn: Worn) -> tuple[float | None, float | None]:
    """Lowest height of the cylinders, and their least distance from the clothed buttocks [m]."""
    if worn.cylinders is None:
        return None, None
    points = edge_points(worn.cylinders)
    off = buttocks(worn.body.person).off(points, worn.clothing)
    return float(points[:, 0].min()), off if np.isfinite(off) else None
