"""Where the rig sits: waist strap, plate, shoulder straps and cylinder bottoms against the diver's own landmarks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.fit.buttocks import edge_points, off_buttocks
from sim.fit.on_back_words import on_back_verdicts
from sim.fit.reach import hand_margin
from sim.fit.straps import Straps, straps
from sim.fit.verdict import Verdict
from sim.fit.waist import Place, strap_place

STATIONS: Final = 61  # heights along the plate at which its width is held against the back


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
    """Least of trunk's half-breadth less the plate's half width, and the same for the folds of the armpits [m].

    The folds count where the plate lies between chest and armpit's height: there the arms swing past it.
    """
    person = worn.body.person
    outline = point_at(worn.seat, np.column_stack([worn.plate.outline, np.zeros(len(worn.plate.outline))]))
    x = np.linspace(outline[:, 0].min(), outline[:, 0].max(), STATIONS)[1:-1]
    half = np.array([_half_width(outline, h) for h in x])
    breadth = person.shape.trunk.at(x, np.full(len(x), 0.5 * np.pi))[:, 1]
    h = person.skeleton.heights
    beside = x < h["axilla"]
    between = (x > h["chest"]) & (x < h["acromion"])
    flank = float((breadth - half)[beside].min(initial=np.inf))
    armpit = float((0.5 * person.measures["interscyei"] - half)[between].min(initial=np.inf))
    return flank, armpit


def _half_width(outline: Floats, height: float) -> float:
    """Half width of a closed outline (n, 3) at a height x [m]."""
    ahead = np.roll(outline, -1, axis=0)
    crossing = (outline[:, 0] <= height) != (ahead[:, 0] <= height)
    a, b = outline[crossing], ahead[crossing]
    y = a[:, 1] + (height - a[:, 0]) / (b[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
    return float(np.abs(y).max(initial=0.0))


def _over_buttocks(worn: Worn) -> tuple[float | None, float | None]:
    """Lowest height of the cylinders, and their least distance from the clothed buttocks [m]."""
    if worn.cylinders is None:
        return None, None
    points = edge_points(worn.cylinders)
    return float(points[:, 0].min()), off_buttocks(points, worn.body, worn.clothing)
