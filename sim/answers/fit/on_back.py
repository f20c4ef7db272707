"""Where the rig sits: waist strap, plate, shoulder straps and cylinder bottoms against the diver's own landmarks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from sim.answers.fit.buttocks import buttocks, edge_points
from sim.answers.fit.on_back_words import on_back_verdicts
from sim.answers.fit.reach import hand_margin
from sim.answers.fit.straps import Straps, straps
from sim.answers.fit.verdict import Verdict
from sim.answers.fit.waist import Place, strap_place
from sim.answers.fit.width import width_left
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at

FLANKS: Final = 241  # heights along the plate at which the trunk's breadth is taken, 2 mm apart


@dataclass(frozen=True, eq=False)
class OnBack:
    """Heights x in body axes, margins, all [m].

    waist_strap : middle of the strap where it leaves the plate;  place : the same in words
    crest, tenth_rib : top of the hip bones, lowest rib;  waist : the natural one, midway between these
    top, bottom : of the plate;  c7, acromion, buttock, crotch : of the body
    top_touched : how much farther a hand over the shoulder would reach beyond the plate's top edge, the better hand
    flank, armpit : by how much the back is wider than the plate each side, where least: trunk, folds of the armpits
    cylinder_end : lowest of the cylinders;  buttocks : least distance of cylinders and boots from the clothed
        buttocks, below 0 they press in; None without cylinders, or when they end above them
    """

    waist_strap: float
    waist: float
    crest: float
    tenth_rib: float
    place: Place
    top: float
    bottom: float
    c7: float
    acromion: float
    buttock: float
    crotch: float
    top_touched: float
    flank: float
    armpit: float
    cylinder_end: float | None
    buttocks: float | None
    straps: Straps
    verdicts: tuple[Verdict, ...]


def on_back(worn: Worn) -> OnBack:
    """Where the rig sits on the standing trunk."""
    heights = worn.body.person.skeleton.heights
    strap = float(point_at(worn.seat, worn.plate.waist_slots)[:, 0].mean())
    crest, rib = heights["iliac crest"], heights["tenth rib"]
    top = point_at(worn.seat, worn.plate.top)
    touched = max(hand_margin(worn, "left", top), hand_margin(worn, "right", top))
    flank, armpit = _width_left(worn)
    end, buttocks = _over_buttocks(worn)
    found = OnBack(
        waist_strap=strap, waist=heights["waist"], crest=crest, tenth_rib=rib, place=strap_place(strap, crest, rib),
        top=float(top[0]), bottom=float(point_at(worn.seat, worn.plate.bottom)[0]),
        c7=heights["c7"], acromion=heights["acromion"], buttock=heights["buttock"], crotch=heights["crotch"],
        top_touched=touched, flank=flank, armpit=armpit, cylinder_end=end, buttocks=buttocks,
        straps=straps(worn), verdicts=(),
    )  # fmt: skip
    return replace(found, verdicts=on_back_verdicts(found))


def _width_left(worn: Worn) -> tuple[float, float]:
    """See ``width_left``; the trunk's breadth is taken at every height of the plate."""
    person = worn.body.person
    ends = [float(point_at(worn.seat, p)[0]) for p in (worn.plate.bottom, worn.plate.top)]
    x = np.linspace(min(ends) - 0.05, max(ends) + 0.05, FLANKS)
    flanks = np.stack([x, person.shape.trunk.at(x, np.full(len(x), 0.5 * np.pi))[:, 1]])
    half = 0.5 * person.measures["interscyei"]
    return width_left(worn.plate, worn.seat, person.skeleton.heights, half, flanks)


def _over_buttocks(worn: Worn) -> tuple[float | None, float | None]:
    """Lowest height of the cylinders, and their least distance from the clothed buttocks [m]."""
    if worn.cylinders is None:
        return None, None
    points = edge_points(worn.cylinders)
    off = buttocks(worn.body).off(points, worn.clothing)
    return float(points[:, 0].min()), off if np.isfinite(off) else None
