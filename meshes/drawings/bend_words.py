"""What is written beside a bend line, or stands in the name of its layer: "65 deg toward R4", "UP 65° R 4"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats

LONGEST: Final = 200  # letters of a text that are looked through
MOST_LABELS: Final = 500  # texts on the layers of bend lines
GREATEST_ANGLE: Final = 120.0  # degrees, as for a bend that is stated
_NUMBER: Final = r"(\d{1,6}(?:[.,]\d{1,12})?)"
_ANGLE: Final = re.compile(rf"([-+\u2212]?)\s*{_NUMBER}\s*(?:°|deg)", re.IGNORECASE)
_RADIUS: Final = re.compile(rf"\bR\s*=?\s*{_NUMBER}", re.IGNORECASE)
# the drawing is seen from behind, so that what is bent up comes toward who looks at it, away from the diver
_AWAY: Final = re.compile(r"\b(?:away|up)\b", re.IGNORECASE)
_TOWARD: Final = re.compile(r"\b(?:towards?|down)\b", re.IGNORECASE)


@dataclass(frozen=True, eq=False)
class Label:
    """A text on a layer of bend lines, and where it begins (2,) [m]."""

    text: str
    at: Floats


@dataclass(frozen=True)
class BendWords:
    """What is said of one bend: turn [rad] of what lies outside it, plus toward the diver, and inner radius [m]."""

    angle: float
    inner_radius: float | None


def bend_words(text: str, metres: float) -> BendWords | None:
    """What a text says of a bend, its radius in units of ``metres``; None where it names no angle that can be."""
    said = text[:LONGEST]
    angle = _ANGLE.search(said)
    if angle is None:
        return None
    degrees = _read(angle[2])
    if not 0.0 < degrees <= GREATEST_ANGLE:
        return None
    away = angle[1] in ("-", "\u2212")
    if _AWAY.search(said) and not _TOWARD.search(said):
        away = not away
    radius = _RADIUS.search(said)
    return BendWords(
        float(np.radians(-degrees if away else degrees)), None if radius is None else metres * _read(radius[1])
    )


def words_of_lines(
    lines: Floats, layers: Sequence[str], labels: Sequence[Label], metres: float
) -> tuple[BendWords | None, ...]:
    """What is said of each bend line (n, 2, 2) [m]: by the texts nearest to it, else by its layer's name.

    Several texts beside a line are one, in their order: an angle and a radius may stand apart.
    """
    beside: list[list[str]] = [[] for _ in layers]
    for label in labels if len(lines) else ():
        beside[int(np.argmin(_away(label.at, lines)))].append(label.text)
    return tuple(
        bend_words(" ".join(texts), metres) or bend_words(layer, metres)
        for texts, layer in zip(beside, layers, strict=True)
    )


def _away(point: Floats, lines: Floats) -> Floats:
    """Distance (n,) of a point from line segments (n, 2, 2)."""
    start, along = lines[:, 0], lines[:, 1] - lines[:, 0]
    long = np.maximum(np.einsum("ij,ij->i", along, along), 1e-18)
    share = np.clip(np.einsum("ij,ij->i", point - start, along) / long, 0.0, 1.0)
    return np.asarray(np.linalg.norm(start + share[:, None] * along - point, axis=1))


def _read(number: str) -> float:
    return float(number.replace(",", "."))
