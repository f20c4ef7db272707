"""The model behind a study of a parts file whose numbers are varied: all rows of a block at once, no loop over rows.

Rows that leave what a parts file may hold, or whose suit is vented to nothing, go the way of single files
(``RigModel``), which knows what to do or say.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from scenarios.errors import ScenarioError
from scenarios.parts_file import PartsFile, PartsSuit, PartsWing
from scenarios.reading import varied
from scenarios.settings import Path
from scenarios.study_axes import NumberAxis
from sim.answers.study.inputs import Choices, Input, Number, Together
from sim.answers.study.job import Answers
from sim.answers.study.plan import Rows
from sim.answers.study.rig_answers import ManyRigs, rig_answers
from sim.answers.study.rig_model import RigModel
from sim.batch.rig_arrays import CellSets, PocketArrays, cell_sets, rig_arrays, suit_arrays, wing_arrays
from sim.statics.venting import BRIM, TRACE

TABLES: Final = {
    "water": ("density", "gravity"),
    "depth": ("pressure",),
    "suit": ("gas", "softness", "gas_density"),
    "wing": ("gas", "softness", "gas_density"),
}
Numbers = Mapping[Path, Floats]


def can_be_arrays(inputs: Sequence[Input]) -> bool:
    """Whether all that the inputs vary are numbers this model knows, and choices that leave those numbers alone."""
    numbers = [a.path for a in _axes(inputs)]
    chosen = [s.path for i in inputs if isinstance(i, Choices) for settings in i.axis.settings for s in settings]
    apart = all(p[: len(c)] != c and c[: len(p)] != p for p in numbers for c in chosen)
    return apart and all(isinstance(i, Choices | Number | Together) for i in inputs) and all(map(_known, numbers))


@dataclass(frozen=True, eq=False)
class PartsModel:
    """Answers blocks of a parts file. ``single`` is the model for one row after another, and holds the file."""

    single: RigModel

    def __call__(self, rows: Rows) -> Answers:
        answers = {c: np.full(len(rows), np.nan) for c in self.single.columns}
        problems = [""] * len(rows)
        for at in _alike(self.single.inputs, rows):
            some = rows.chosen(at)
            slow = self._solve(some, at, answers)
            found = self.single(some.chosen(slow))
            for column, values in found.values.items():
                answers[column][at[slow]] = values
            for i, problem in zip(at[slow], found.problems, strict=True):
                problems[i] = problem
        return Answers(answers, problems)

    def _solve(self, rows: Rows, at: Ints, answers: dict[str, Floats]) -> Ints:
        """Put the answers of rows that differ in numbers only to their places ``at``; those left over, by index."""
        settings = [s for i in self.single.inputs if isinstance(i, Choices) for s in i.settings(_first(i, rows))]
        try:
            base = varied(self.single.base, settings).content
        except ScenarioError:
            return np.arange(len(rows))
        if not isinstance(base, PartsFile):
            return np.arange(len(rows))
        numbers = {a.path: _si(a, rows) for a in _axes(self.single.inputs)}
        plain = _plain(base, numbers, len(rows))
        good = np.flatnonzero(plain)
        if len(good):
            rigs = _rigs(base, {path: values[good] for path, values in numbers.items()}, len(good))
            for column, values in rig_answers(rigs, self.single.columns).items():
                answers[column][at[good]] = values
        return np.flatnonzero(~plain)


def _axes(inputs: Sequence[Input]) -> list[NumberAxis]:
    """Every number that is varied."""
    axes: list[NumberAxis] = []
    for one in inputs:
        if isinstance(one, Number):
            axes.append(one.axis)
        elif isinstance(one, Together):
            axes += one.axes
    return axes


def _known(path: Path) -> bool:
    if path[0] == "part":
        return len(path) == 3 + (path[2] in ("cm", "cb")) and path[2] in ("mass", "volume", "cm", "cb")
    return len(path) == 2 and path[1] in TABLES.get(str(path[0]), ())


def _alike(inputs: Sequence[Input], rows: Rows) -> Iterator[Ints]:
    """Indices of the rows of each combination of choices."""
    codes = [rows.values[c.name] for i in inputs if isinstance(i, Choices) for c in i.columns]
    if not codes:
        yield np.arange(len(rows))
        return
    which = np.unique(np.nan_to_num(np.stack(codes), nan=-1.0), axis=1, return_inverse=True)[1].ravel()
    for group in range(which.max() + 1):
        yield np.flatnonzero(which == group)


def _first(one: Choices, rows: Rows) -> list[float]:
    return [float(rows.values[c.name][0]) for c in one.columns]


def _si(axis: NumberAxis, rows: Rows) -> Floats:
    """Values (n,) in SI; NaN where the file's own is meant."""
    return axis.scale.si(rows.values[axis.title])


def _plain(base: PartsFile, numbers: Numbers, n: int) -> NDArray[np.bool_]:
    """(n,) True for rows that hold what a parts file may hold, and gas in the suit, in cells of the logistic law."""
    masses = sum((_number(p.mass, ("part", i, "mass"), numbers, n) for i, p in enumerate(base.part)), np.zeros(n))
    good = masses > 0.0
    if base.suit is not None:
        good &= base.suit.cells is not None
        good &= _number(base.suit.gas, ("suit", "gas"), numbers, n) > TRACE
    if base.wing is not None and not isinstance(base.wing.gas, str):
        good &= _number(base.wing.gas, ("wing", "gas"), numbers, n) <= sum(c.most for c in base.wing.cells)
    return good


def _number(told: float, path: Path, numbers: Numbers, n: int) -> Floats:
    """A number of n rows: varied, or as in the file."""
    values = numbers.get(path)
    return np.full(n, told) if values is None else np.where(np.isnan(values), told, values)


def _point(told: Sequence[float], path: Path, numbers: Numbers, n: int) -> Floats:
    return np.stack([_number(told[k], (*path, k), numbers, n) for k in range(3)], axis=1)


def _rigs(base: PartsFile, numbers: Numbers, n: int) -> ManyRigs:
    """n rigs, their rigid parts added up."""
    mass, volume = np.zeros(n), np.zeros(n)
    weighted, displaced = np.zeros((n, 3)), np.zeros((n, 3))
    for i, part in enumerate(base.part):
        m = _number(part.mass, ("part", i, "mass"), numbers, n)
        v = _number(part.volume, ("part", i, "volume"), numbers, n)
        weighted += m[:, None] * _point(part.cm, ("part", i, "cm"), numbers, n)
        displaced += v[:, None] * _point(part.cb, ("part", i, "cb"), numbers, n)
        mass, volume = mass + m, volume + v
    cm = weighted / mass[:, None]
    cb = np.where(volume[:, None] > 0.0, displaced / np.where(volume > 0.0, volume, 1.0)[:, None], cm)
    water = {
        "density": _number(base.water.density, ("water", "density"), numbers, n),
        "gravity": _number(base.water.gravity, ("water", "gravity"), numbers, n),
    }
    pressure = _number(base.depth.pressure, ("depth", "pressure"), numbers, n)
    suit, suit_density = _pocket("suit", base.suit, numbers, n, water, pressure)
    wing, wing_density = _pocket("wing", base.wing, numbers, n, water, pressure)
    held = None if base.depth.held == "cm" else np.array(base.depth.held)
    arrays = rig_arrays(mass, cm, volume, cb, held=held, suit=suit, wing=wing, **water)
    return ManyRigs(arrays, mass, volume, suit_density, wing_density)


def _pocket(
    name: str,
    told: PartsSuit | PartsWing | None,
    numbers: Numbers,
    n: int,
    water: Mapping[str, Floats],
    pressure: Floats,
) -> tuple[PocketArrays | None, Floats]:
    """Suit or wing of n rigs, all with the file's cells, and the density of the gas in it."""
    if told is None:
        return None, np.zeros(n)
    density = _number(told.gas_density, (name, "gas_density"), numbers, n)
    gas = _number(np.nan if isinstance(told.gas, str) else told.gas, (name, "gas"), numbers, n)
    common = {
        "which": np.zeros(n, dtype=int), "scale": _number(told.softness, (name, "softness"), numbers, n),
        "gas": gas, "gas_density": density, **water,
    }  # fmt: skip
    if isinstance(told, PartsSuit):
        room = sum(c.most for c in told.cells or ())  # an overfull suit vents, as in ``vented_to_room``
        common["gas"] = np.where(gas >= room, BRIM * room, gas)
        return suit_arrays(_cells(told), pressure=pressure, **common), density
    return wing_arrays(_cells(told), **common), density


def _cells(told: PartsSuit | PartsWing) -> CellSets:
    at = np.array([c.at for c in told.cells or ()])
    least, most = (np.array([getattr(c, key) for c in told.cells or ()]) for key in ("least", "most"))
    return cell_sets(at[None], least[None], most[None], "logistic")
