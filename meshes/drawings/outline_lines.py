"""Lines as a drawing file holds them, before anyone asks what they enclose."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.drawings.bend_words import LONGEST, MOST_LABELS, Label
from meshes.drawings.shape_file import FileUnit, ShapeFileError
from meshes.mesh import Floats

CURVE_TOLERANCE: Final = 1e-5  # m, greatest distance between a curve and the chords that stand for it
GREATEST_REACH: Final = 1e3  # m from the drawing's origin; further out is a stray point or damage
MOST_LINES: Final = 20_000
MOST_POINTS: Final = 250_000  # of all lines, with their curves in chords

MOST_HOLES: Final = 2_000  # of a plate: each is measured, and held against each other for bolts and slots


@dataclass(frozen=True, eq=False)
class DrawnLines:
    """Lines of a drawing in metres, X right and Y up.

    chains : each (n, 2), open or closed;  bends : the same, from layers that hold bend lines
    bend_layers : of each bend, its layer's name;  labels : texts on such layers
    unit : of the file's numbers;  skipped : what was left out, counted;  notes : sentences
    """

    chains: tuple[Floats, ...]
    bends: tuple[Floats, ...]
    bend_layers: tuple[str, ...]
    labels: tuple[Label, ...]
    unit: FileUnit
    skipped: Counter[str]


def is_bend_layer(name: str) -> bool:
    """Whether a layer or group of this name holds bend lines."""
    return any(word in name.lower() for word in ("bend", "fold"))


def drawn_lines(
    found: Iterable[tuple[str, Floats]], labels: Sequence[Label], file: str, unit: FileUnit, skipped: Counter[str]
) -> DrawnLines:
    """Sort (layer, chain (n, 2) [m]) into outline and bends; raises ShapeFileError for too many or endless lines.

    ``labels`` and ``skipped`` are filled while the chains are found.
    """
    chains: list[Floats] = []
    bends: list[Floats] = []
    layers: list[str] = []
    points = 0
    for layer, chain in found:
        points += len(chain)
        check_points(points, file)
        if len(chain) > 1 and is_bend_layer(layer):
            bends.append(chain)
            layers.append(layer)
        elif len(chain) > 1:
            chains.append(chain)
        if len(chains) + len(bends) > MOST_LINES:
            raise ShapeFileError(f"{file}: more than {MOST_LINES} lines; export the plate's outline and holes alone")
    return DrawnLines(tuple(chains), tuple(bends), tuple(layers), tuple(labels), unit, skipped)


def label_at(text: str, at: ArrayLike, layer: str, labels: list[Label]) -> bool:
    """Keep a text that stands at ``at`` (2,) [m] on a layer of bend lines; whether it was kept."""
    place = np.asarray(at, dtype=float)
    if not (is_bend_layer(layer) and text.strip() and len(labels) < MOST_LABELS and np.isfinite(place).all()):
        return False
    labels.append(Label(text[:LONGEST], place))
    return True


def check_points(count: int, file: str) -> None:
    """Raise ShapeFileError when a drawing has expanded to too many points."""
    if count > MOST_POINTS:
        raise ShapeFileError(
            f"{file}: its lines and curves come to more than {MOST_POINTS} points; export the plate's outline and "
            "holes alone, with fewer points to a curve"
        )


def check_holes(count: int, file: str) -> None:
    """Raise ShapeFileError when a plate has too many holes to be looked through."""
    if count > MOST_HOLES:
        raise ShapeFileError(
            f"{file}: {count} holes, at most {MOST_HOLES} are looked through; leave out patterns of small holes"
        )


def check_reach(corners: Floats, file: str) -> None:
    """Raise ShapeFileError when a line's control points (n, 2 or 3) [m] are not finite or absurdly far out."""
    if not (np.abs(corners) <= GREATEST_REACH).all():
        raise ShapeFileError(
            f"{file}: a line runs more than {GREATEST_REACH:.0f} m from the drawing's origin; delete it, or write "
            "the unit the drawing was made in"
        )
