"""What is said of a plate, as text."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sim.answers.plate.answer import BendTold, PlateAnswer
from sim.telling.words import bullets, rows, wrapped

FLAT = 5e-5  # m, of a channel's depth, below the shown digits


def plate_text(answer: PlateAnswer) -> str:
    """The whole answer for people."""
    lines = [
        answer.title,
        *rows("Plate", _plate_rows(answer)),
        *rows("Places", ((p.name, f"{p.source}: {p.told}") for p in answer.places)),
        *bullets("Check", [*answer.doubts, *answer.notes]),
        *bullets("Assumed", answer.assumed),
        *bullets("Read", answer.read),
        "",
        *wrapped(answer.caution, "Caution: ", ""),
    ]
    return "\n".join(lines)


def _plate_rows(answer: PlateAnswer) -> Iterator[tuple[str, str]]:
    if answer.file is not None and answer.unit is not None:
        yield "drawing", f"{answer.file}, {answer.kind}; unit {answer.unit}"
    weight = answer.weight_in_water
    water = f"in water of {answer.water_density:.0f} kg/m^3 "
    heavy = f"{water}{weight:.3f} kg" if weight >= 0.0 else f"{water}it floats with {-weight:.3f} kg"
    yield "mass", f"{answer.mass:.3f} kg{', as weighed' if answer.weighed else ''}; {heavy}"
    made = answer.material
    name = made.name if made.known_as in (None, made.name) else f"{made.name} (as {made.known_as})"
    thick = "" if answer.thickness is None else f"{_mm(answer.thickness)} thick, of "
    yield "made", f"{thick}{name}, {made.density:.0f} kg/m^3"
    seen = "" if answer.kind != "solid" else " as seen from behind"
    yield "area", f"{1e4 * answer.area:.1f} cm^2{seen}"
    wide = f"{_mm(answer.width)} wide"
    if answer.bends:
        wide = f"{_mm(answer.flat_width)} wide flat, {_mm(answer.width)} bent"
    deep = f"channel {_mm(answer.channel_depth)} deep" if answer.channel_depth > FLAT else "no channel"
    yield "size", f"{_mm(answer.length)} long, {wide}, {_mm(answer.depth)} deep in all; {deep}"
    yield "CM", _cm_words(answer)
    ixx, iyy, izz = (answer.inertia[k][k] for k in range(3))
    yield (
        "inertia",
        f"about the CM: {ixx:.5f} kg m^2 about the long axis, {iyy:.5f} across, {izz:.5f} about the axis to the back",
    )
    if answer.bends:
        yield "bends", "; ".join(_bend(b) for b in answer.bends)


def _cm_words(answer: PlateAnswer) -> str:
    across = answer.cm_across
    side = "on the middle line"
    if abs(across) >= FLAT:
        side = f"{_mm(abs(across))} to the {'left' if across > 0.0 else 'right'} of the middle line"
    return f"{_mm(answer.cm_down)} below the top edge, {side}, {_mm(answer.cm_behind)} behind what lies on the back"


def _bend(bend: BendTold) -> str:
    way = "toward" if bend.angle >= 0.0 else "away from"
    side = "left" if bend.at > 0.0 else "right"
    return (
        f"{_mm(abs(bend.at))} {side}: {math.degrees(abs(bend.angle)):.1f} degrees {way} the diver, inner radius "
        f"{_mm(bend.inner_radius)} ({bend.source})"
    )


def _mm(length: float) -> str:
    return f"{1e3 * length:.1f} mm"
