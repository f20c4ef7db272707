"""The flat sheet of a plate with its measures, seen from behind with the head up, in millimetres.

The origin is the middle of the bolts; the diver's left lies to the left, as when one looks at the diver's back.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.plate.arcs import arcs_of
from meshes.plate.back_plate import Plate
from meshes.plate.distances import Gap, openings_of
from meshes.plate.edges import Edges, edges_of
from meshes.plate.openings import Opening
from meshes.plate.sheet import Bend, bend_pieces
from meshes.plate.zones import shape_of
from sim.answers.plate.drawn.marks import Area, Mark, Stroke, Word, dimension, line, millimetres, ordinates
from sim.telling.language import number, say

MOST: Final = 60  # openings and round corners that are told one by one: no plate that is meant has as many
MANY: Final = 8  # round holes alike, of which only one is told
ALIKE: Final = 0.05  # mm, within which a place is the mirror image of another
CLEAR: Final = 0.8  # mm kept between an opening and the line of another's measure
SMALL: Final = 2.8  # mm high, letters within the sheet
LEFT, RIGHT, TOP, BOTTOM = 24.0, 28.0, 20.0, 34.0  # mm around the sheet for its measures


def on_paper(points: ArrayLike) -> Floats:
    """Places (n, 2) of a plate's flat frame [m] as drawn [mm]."""
    place = np.atleast_2d(np.asarray(points, dtype=float))
    return np.stack([-1e3 * place[:, 1], 1e3 * place[:, 0]], axis=1)


def flat_view(plate: Plate) -> Iterator[Mark]:
    """All marks of the view."""
    outline = plate.pattern.outline
    edges = edges_of(outline.outer)
    openings = openings_of(outline)
    yield Area(tuple(on_paper(ring) for ring in (outline.outer, *outline.holes)))
    for ring in (outline.outer, *outline.holes):
        closed = on_paper(ring)
        yield Stroke(np.concatenate([closed, closed[:1]]), "edge")
    yield from _middle_line(edges)
    yield from _bends(plate, edges)
    yield from _openings(openings.measures, outline.holes)
    yield from _zones(plate, edges)
    yield from _corners(outline.outer)
    yield from _gaps((openings.narrowest(), openings.nearest_to_edge()))
    measured = (*_from_edges(plate, edges, openings.measures[:MOST]), *_overall(plate, edges))
    yield from _round_openings(measured, outline.holes)


def _middle_line(edges: Edges) -> Iterator[Mark]:
    ends = on_paper([edges.at(-0.006), edges.at(edges.length + 0.006)])
    yield Stroke(ends, "middle")


def _bends(plate: Plate, edges: Edges) -> Iterator[Mark]:
    """Bend lines where there is sheet, with what they turn, and their distances from the middle line above."""
    top = 1e3 * edges.top
    for bend in plate.pattern.bends:
        pieces = [on_paper(piece) for piece in bend_pieces(plate.pattern.outline, bend)]
        for piece in pieces:
            yield Stroke(piece, "bend")
        if pieces:
            longest = max(pieces, key=lambda piece: float(abs(piece[1, 1] - piece[0, 1])))
            x, y = longest.mean(axis=0)
            yield Word(
                _bend_words(bend, plate.thickness), (float(x) - 0.6, float(y)), SMALL, across="right", angle=90.0
            )
    places = [(on_paper([edges.top, bend.at])[0], bend.at - edges.middle) for bend in plate.pattern.bends]
    yield from ordinates(_mirrored(places, edges), "across", top + 6.0, 1)


def _bend_words(bend: Bend, thickness: float) -> str:
    angle, inner = float(np.degrees(abs(bend.angle))), millimetres(1e3 * (bend.radius - thickness / 2))
    if bend.angle > 0.0:
        return say("bend {angle:.1f}° away from the diver, inner R{inner}", angle=angle, inner=inner)
    return say("bend {angle:.1f}° toward the diver, inner R{inner}", angle=angle, inner=inner)


def _openings(measures: Sequence[Opening], rings: Sequence[Floats]) -> Iterator[Mark]:
    """Their sizes; of many round ones alike, at the first alone."""
    rounds = [m.roundness > 0.96 and m.length - m.width < 1e-4 for m in measures]
    alike = Counter(millimetres(1e3 * m.length) for m, is_round in zip(measures, rounds, strict=True) if is_round)
    told: set[str] = set()
    for measured, ring, is_round in list(zip(measures, rings, rounds, strict=True))[:MOST]:
        if not is_round:
            yield from _opening(measured, ring)
            continue
        (x, y), wide = on_paper(measured.centre)[0], 1e3 * measured.length
        yield from _cross(x, y, min(2.0, wide / 4))
        figure = millimetres(wide)
        many = alike[figure] > MANY
        if not (many and figure in told):
            told.add(figure)
            words = f"{alike[figure]} × ⌀{figure}" if many else f"⌀{figure}"
            yield Word(words, (float(x + wide / 2 + 0.8), float(y) + 0.8 * SMALL), SMALL)


def _opening(measured: Opening, ring: Floats) -> Iterator[Mark]:
    """The size of one that is not round, written along it."""
    x, y = on_paper(measured.centre)[0]
    long, wide = 1e3 * measured.length, 1e3 * measured.width
    radii = {millimetres(1e3 * arc.radius) for arc in arcs_of(ring)}
    angle = _readable(measured)
    lean = angle if abs(angle) <= 45.0 else angle - np.copysign(90.0, angle)
    words = [f"{millimetres(long)} × {millimetres(wide)}"]
    if measured.is_slot and 0.05 < abs(lean) < 44.95:
        words.append(f"{number(abs(lean), 1)}°")
    elif not measured.is_slot and len(radii) == 1:
        words.append(f"R{radii.pop()}")
    along = np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
    at = np.array([x, y]) + along * np.copysign(0.26 * long, along[0] if abs(along[0]) > 0.1 else along[1])
    if not measured.is_slot:
        yield from _cross(x, y, 2.0)
        at += SMALL * np.array([-along[1], along[0]])
    yield Word(", ".join(words), (float(at[0]), float(at[1])), SMALL, across="center", angle=angle)


def _cross(x: float, y: float, arm: float) -> Iterator[Mark]:
    yield line((x - arm, y), (x + arm, y))
    yield line((x, y - arm), (x, y + arm))


def _readable(measured: Opening) -> float:
    """Degrees from level to the long side of an opening as drawn, so that words along it can be read: -90 to 90."""
    along = on_paper(measured.along)[0]
    degrees = float(np.degrees(np.arctan2(along[1], along[0])))
    return (degrees + 89.0) % 180.0 - 89.0


def _zones(plate: Plate, edges: Edges) -> Iterator[Mark]:
    """Where the sheet has another thickness, and which."""
    import shapely

    for zone in plate.zones:
        for part in shapely.get_parts(shape_of(zone, plate.pattern.outline, edges)):
            if part.geom_type == "Polygon":
                yield Stroke(on_paper(shapely.get_coordinates(part.exterior)), "zone")
                left, top = on_paper([part.bounds[2], part.bounds[3]])[0]
                words = say("{mm} thick", mm=millimetres(1e3 * zone.thickness))
                yield Word(words, (float(left) + 1.0, float(top) - 2.2), SMALL)


def _corners(outer: Floats) -> Iterator[Mark]:
    """Radii of the round corners on the left half of the sheet, and on the other what differs."""
    told: set[tuple[float, float, float]] = set()
    for arc in sorted(arcs_of(outer), key=lambda arc: -arc.middle[1])[:MOST]:
        place = on_paper(arc.middle)[0]
        radius = 1e3 * arc.radius
        key = (round(abs(place[0])), round(place[1]), round(radius, 1))
        if key in told:
            continue
        told.add(key)
        outward = on_paper(arc.outward)[0] / 1e3
        inside = place - 1.5 * outward
        across: Literal["left", "right"] = "left" if outward[0] < 0.0 else "right"
        yield Word(f"R{millimetres(radius)}", (float(inside[0]), float(inside[1])), SMALL, across=across)


def _gaps(gaps: Sequence[Gap | None]) -> Iterator[Mark]:
    """The narrowest places between openings, and between an opening and the edge."""
    for gap in gaps:
        if gap is not None:
            ends = on_paper(gap.ends)
            yield Stroke(ends, "gap")
            x, y = ends.mean(axis=0)
            yield Word(millimetres(1e3 * gap.width), (float(x) + 1.2, float(y) + 2.2), SMALL, bold=True)


def _from_edges(plate: Plate, edges: Edges, measures: Sequence[Opening]) -> Iterator[Mark]:
    """Middles of all openings: from the top edge at the left, from the middle line below."""
    outer = on_paper(plate.pattern.outline.outer)
    low, left = outer[:, 1].min(), outer[:, 0].min()
    rows: dict[str, tuple[Floats, str]] = {"0": (np.array([on_paper(edges.at(0.0))[0, 0], 1e3 * edges.top]), "0")}
    for one in measures:
        figure = millimetres(1e3 * (edges.top - one.centre[0]))
        place = on_paper(one.centre)[0]
        if figure not in rows or place[0] < rows[figure][0][0]:
            rows[figure] = (place, figure)
    yield from ordinates(list(rows.values()), "up", float(left) - 6.0, -1)
    places = [(on_paper(one.centre)[0], float(one.centre[1]) - edges.middle) for one in measures]
    yield from ordinates(_mirrored(places, edges), "across", float(low) - 6.0, -1)


def _round_openings(marks: Sequence[Mark], holes: Sequence[Floats]) -> Iterator[Mark]:
    """The marks, their lines left out over and along all openings but that at which each begins."""
    import shapely

    openings = [shapely.Polygon(on_paper(hole)).buffer(CLEAR) for hole in holes]
    for mark in marks:
        if not isinstance(mark, Stroke):
            yield mark
            continue
        start = shapely.Point(mark.points[0]).buffer(CLEAR)
        others = shapely.union_all([one for one in openings if not one.intersects(start)])
        left = shapely.LineString(mark.points).difference(others)
        for part in shapely.get_parts(left):
            yield Stroke(shapely.get_coordinates(part), mark.look)


def _mirrored(places: Sequence[tuple[Floats, float]], edges: Edges) -> list[tuple[Floats, str]]:
    """Places by their distance from the middle line [m]: a mirrored pair once, at the right, as "±35"."""
    found: dict[str, tuple[Floats, str]] = {}
    sides: dict[str, set[bool]] = {}
    for _, away in places:
        sides.setdefault(millimetres(1e3 * abs(away)), set()).add(away > 0.0)
    for place, away in places:
        figure = millimetres(1e3 * abs(away))
        both = len(sides[figure]) == 2 and abs(1e3 * away) > ALIKE
        if both and away > 0.0:
            continue
        key = figure if both or abs(1e3 * away) <= ALIKE else f"{figure} {away > 0.0}"
        if key not in found or place[1] < found[key][0][1]:
            found[key] = (place, f"±{figure}" if both else figure)
    return list(found.values())


def _overall(plate: Plate, edges: Edges) -> Iterator[Mark]:
    outer = on_paper(plate.pattern.outline.outer)
    low, high = outer.min(axis=0), outer.max(axis=0)
    points = plate.pattern.points
    yield from dimension((on_paper(points.upper_bolt)[0], on_paper(points.lower_bolt)[0]), "up", float(high[0]) + 9.0)
    top, bottom = outer[outer[:, 1].argmax()], outer[outer[:, 1].argmin()]
    yield from dimension((top, bottom), "up", float(high[0]) + 19.0)
    leftmost, rightmost = outer[outer[:, 0].argmin()], outer[outer[:, 0].argmax()]
    yield from dimension((leftmost, rightmost), "across", float(low[1]) - 28.0)
    yield Word("0", (float(on_paper(edges.at(0.0))[0, 0]), float(high[1]) + 7.5), across="center", along="bottom")
