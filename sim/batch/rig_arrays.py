"""Many rigs as arrays: what the statics needs of each, no more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from meshes.mesh import Floats, Ints
from sim.fill_laws import FillLaw, GarmentLaw, LogisticLaw
from sim.rig import STANDARD_GRAVITY, Pocket, Rig

Law = Literal["logistic", "garment"]
LAWS: Final[tuple[Law, ...]] = ("logistic", "garment")
ABREAST: Final = 8  # cells are padded with empty ones to a multiple of this: a processor does so many at once
ROWS: Final = 6  # of numbers a cell has
TINY: Final = 1e-300  # m^3, a divisor where there is no room at all
NOTHING: Final = 1e-200  # m^3, room of a padding cell of a garment, whose formula divides by it


@dataclass(frozen=True, eq=False)
class CellSets:
    """S sets of cells that suits or wings may have, made by ``cell_sets``.

    cells : (S, 6, n) rows x, y, z [m] in body axes, the two volumes [m^3] of the fill law: least and most - least
        (logistic), loft and slack (garment); and the preload [Pa] (0 for the logistic law)
    garment : (S,) True where a set follows the garment law, else the logistic one
    totals : (S, 5) of each set: both volumes' totals [m^3], and the middle of its cells by the second [m]
    """

    cells: Floats
    garment: NDArray[np.bool_]
    totals: Floats


@dataclass(frozen=True, eq=False)
class PocketArrays:
    """One pocket (suit or wing) of B rigs, and the sets of cells that they wear.

    which : (B,) the set that each rig wears, -1 for none; one set may serve all rigs
    scale : (B,) softness p0, or stiffness P of a garment [Pa]
    weight : (B,) (rho - rho_gas) g [N/m^3]
    compliance : (B,) 1/p_amb [1/Pa] (suit), 0 (wing)
    gas : (B,) suit: volume its gas has at the held point's pressure [m^3], 0 for none;
        wing: a fixed volume [m^3], or NaN for what makes the whole neutral
    """

    sets: CellSets
    which: Ints
    scale: Floats
    weight: Floats
    compliance: Floats
    gas: Floats


@dataclass(frozen=True, eq=False)
class RigArrays:
    """B rigs. Everything about their rigid parts is in four numbers each.

    rigid : (B, 3) g (sum m r - rho sum V c) of the rigid parts about the held point [N m]
    spare : (B,) kilograms of lift that gas must supply to make the rigid parts neutral [kg]
    gravity : (B,) [m/s^2];  held : (B, 3) the held point in body axes [m]
    """

    rigid: Floats
    spare: Floats
    gravity: Floats
    held: Floats
    suit: PocketArrays
    wing: PocketArrays

    def __len__(self) -> int:
        return len(self.spare)

    def block(self, rows: slice) -> RigArrays:
        """The rigs ``rows``; cells are not copied."""
        return RigArrays(
            self.rigid[rows],
            self.spare[rows],
            self.gravity[rows],
            self.held[rows],
            _block(self.suit, rows),
            _block(self.wing, rows),
        )


def _block(pocket: PocketArrays, rows: slice) -> PocketArrays:
    p = pocket
    return PocketArrays(p.sets, p.which[rows], p.scale[rows], p.weight[rows], p.compliance[rows], p.gas[rows])


def cell_sets(at: ArrayLike, first: ArrayLike, second: ArrayLike, law: Law, preload: ArrayLike = 0.0) -> CellSets:
    """S sets of n cells at ``at`` (S, n, 3) [m], body axes.

    first, second : (S, n) [m^3] least and most (logistic), or loft and slack (garment)
    preload : (S, n) or one for all [Pa], of a garment
    Raises ValueError where a cell is impossible, as ``sim.fill_laws`` does for one rig.
    """
    place, one, two = (np.asarray(a, dtype=float) for a in (at, first, second))
    if place.ndim != 3 or place.shape[2] != 3 or one.shape != place.shape[:2] or two.shape != one.shape:
        raise ValueError(f"cells need shapes (S, n, 3), (S, n), (S, n), got {place.shape}, {one.shape}, {two.shape}")
    if law not in LAWS:
        raise ValueError(f"law must be one of {', '.join(LAWS)}, got {law!r}")
    if not np.isfinite(place).all():
        raise ValueError("every cell needs a finite position")
    if law == "logistic":
        if not ((one >= 0.0) & (two >= one) & np.isfinite(two)).all():
            raise ValueError("each cell needs 0 <= least <= most")
        two = two - one
    elif not ((one > 0.0) & (two > 0.0) & np.isfinite(one + two)).all():
        raise ValueError("each cell needs loft > 0 and slack > 0")
    sets, n = one.shape
    on_garment = np.broadcast_to(np.asarray(preload, dtype=float), one.shape)
    if not np.isfinite(on_garment).all() or (law == "logistic" and on_garment.any()):
        raise ValueError("each cell of a garment needs a finite preload, and the logistic law knows none")
    cells = np.zeros((sets, ROWS, -(-n // ABREAST) * ABREAST))
    cells[:, 3:5] = NOTHING if law == "garment" else 0.0
    cells[:, :3] = place[:, :1].transpose(0, 2, 1) if n else 0.0  # padding lies where the first cell does
    cells[:, :3, :n] = place.transpose(0, 2, 1)
    cells[:, 3, :n], cells[:, 4, :n], cells[:, 5, :n] = one, two, on_garment
    return CellSets(cells, np.full(sets, law == "garment"), _totals(cells))


def _totals(cells: Floats) -> Floats:
    volumes = cells[:, 3:5].sum(axis=2)
    middle = np.einsum("scn,sn->sc", cells[:, :3], cells[:, 4])
    return np.concatenate([volumes, middle / np.maximum(volumes[:, 1:], TINY)], axis=1)


def merged_sets(several: Sequence[CellSets]) -> CellSets:
    """All sets of ``several`` in one, in their order; the shorter ones are padded with empty cells."""
    if len(several) == 1:
        return several[0]
    n = max(one.cells.shape[2] for one in several)
    garment = np.concatenate([one.garment for one in several])
    cells = np.zeros((len(garment), ROWS, n))
    cells[:, 3:5] = np.where(garment, NOTHING, 0.0)[:, None, None]
    at = 0
    for one in several:
        rows = slice(at, at + len(one.garment))
        if one.cells.shape[2]:
            cells[rows, :3] = one.cells[:, :3, :1]
        cells[rows, :, : one.cells.shape[2]] = one.cells
        at += len(one.garment)
    return CellSets(cells, garment, np.concatenate([one.totals for one in several]))


def suit_arrays(
    sets: CellSets,
    *,
    which: ArrayLike,
    scale: ArrayLike,
    gas: ArrayLike,
    pressure: ArrayLike,
    density: ArrayLike = 1025.0,
    gas_density: ArrayLike = 0.0,
    gravity: ArrayLike = STANDARD_GRAVITY,
) -> PocketArrays:
    """Suits of B rigs out of ``cell_sets``; ``which`` (B,), the rest (B,) or one number for all.

    scale : softness or stiffness [Pa], > 0;  gas : [m^3] at the held point's ``pressure`` [Pa, absolute], 0 for none
    density, gas_density : of water and gas [kg/m^3]. Raises ValueError for numbers out of range.
    """
    pocket = _pocket(sets, which, scale, gas, density, gas_density, gravity)
    if not (pocket.gas >= 0.0).all():
        raise ValueError("a suit's gas must be >= 0")
    return _with_compliance(pocket, 1.0 / _positive("pressure", pressure, len(pocket.which)))


def wing_arrays(
    sets: CellSets,
    *,
    which: ArrayLike,
    scale: ArrayLike,
    gas: ArrayLike = np.nan,
    density: ArrayLike = 1025.0,
    gas_density: ArrayLike = 0.0,
    gravity: ArrayLike = STANDARD_GRAVITY,
) -> PocketArrays:
    """Wings of B rigs, as ``suit_arrays``; ``gas`` is a volume [m^3] or NaN for what makes the whole neutral."""
    return _pocket(sets, which, scale, gas, density, gas_density, gravity)


def no_pocket(rigs: int) -> PocketArrays:
    """What ``rigs`` rigs without a suit's gas, or without a wing, have in its place."""
    sets = CellSets(np.zeros((1, ROWS, 0)), np.zeros(1, dtype=bool), np.zeros((1, 5)))
    return _pocket(sets, np.full(rigs, -1), 1.0, 0.0, 1.0, 0.0, 1.0)


def _pocket(
    sets: CellSets,
    which: ArrayLike,
    scale: ArrayLike,
    gas: ArrayLike,
    density: ArrayLike,
    gas_density: ArrayLike,
    gravity: ArrayLike,
) -> PocketArrays:
    chosen = np.ascontiguousarray(which, dtype=np.int64)
    if chosen.ndim != 1 or (len(chosen) and not (chosen.min() >= -1 and chosen.max() < len(sets.garment))):
        raise ValueError(f"which must be (B,) numbers of cell sets, 0 to {len(sets.garment) - 1}, or -1")
    n = len(chosen)
    weight = _column(_column(density, n) - _column(gas_density, n), n) * _column(gravity, n)
    return PocketArrays(
        sets,
        chosen,
        _positive("scale", scale, n),
        _positive("weight of water less gas", weight, n),
        np.zeros(n),
        _column(gas, n),
    )


def _with_compliance(pocket: PocketArrays, compliance: Floats) -> PocketArrays:
    p = pocket
    return PocketArrays(p.sets, p.which, p.scale, p.weight, compliance, p.gas)


def rig_arrays(
    mass: ArrayLike,
    cm: ArrayLike,
    volume: ArrayLike,
    cb: ArrayLike,
    *,
    held: ArrayLike | None = None,
    density: ArrayLike = 1025.0,
    gravity: ArrayLike = STANDARD_GRAVITY,
    suit: PocketArrays | None = None,
    wing: PocketArrays | None = None,
) -> RigArrays:
    """B rigs from the mass (B,) [kg], CM (B, 3) [m], volume (B,) [m^3] and CB (B, 3) [m] of their rigid parts.

    held : (B, 3) or (3,) [m], body axes; None holds the CM of the rigid parts. density [kg/m^3] and gravity [m/s^2]
    of the water, (B,) or one number. Raises ValueError for numbers that are not finite or shapes that do not fit.
    """
    m = np.atleast_1d(np.asarray(mass, dtype=float))
    n = len(m)
    v, rho, g = _column(volume, n), _positive("density", density, n), _positive("gravity", gravity, n)
    centre, buoyancy = _points(cm, n), _points(cb, n)
    point = centre if held is None else _points(held, n)
    rigid = g[:, None] * (m[:, None] * (centre - point) - (rho * v)[:, None] * (buoyancy - point))
    pockets = [no_pocket(n) if p is None else p for p in (suit, wing)]
    if any(len(p.which) != n for p in pockets):
        raise ValueError(f"suit and wing must be those of {n} rigs")
    if not (np.isfinite(rigid).all() and np.isfinite(m).all()):
        raise ValueError("masses, volumes and points must be finite")
    return RigArrays(np.ascontiguousarray(rigid), m - rho * v, g, np.ascontiguousarray(point), *pockets)


def stacked(rigs: Sequence[Rig]) -> RigArrays:
    """Arrays of single rigs. Pockets that share the same cells and law (the same objects) share one set."""
    return rig_arrays(
        [r.whole.mass for r in rigs],
        np.array([r.whole.cm for r in rigs]).reshape(-1, 3),
        [r.whole.volume for r in rigs],
        np.array([r.whole.cb for r in rigs]).reshape(-1, 3),
        held=np.array([r.held for r in rigs]).reshape(-1, 3),
        density=[r.water.density for r in rigs],
        gravity=[r.water.gravity for r in rigs],
        suit=_stacked_pockets(rigs, [r.suit for r in rigs], fixed_amount=True),
        wing=_stacked_pockets(rigs, [r.wing for r in rigs], fixed_amount=False),
    )


def _stacked_pockets(rigs: Sequence[Rig], pockets: list[Pocket | None], *, fixed_amount: bool) -> PocketArrays | None:
    worn = [p for p in pockets if p is not None]
    if not worn:
        return None
    sets: list[CellSets] = []
    numbers: dict[tuple[int, ...], int] = {}
    which = np.full(len(pockets), -1)
    for i, p in enumerate(pockets):
        if p is not None:
            first, second, preload, law = _columns(p.law)
            # arrays are told apart by where they lie: equal ones at two places only cost memory
            key = (id(p.cells), *(id(a) for a in vars(p.law).values() if isinstance(a, np.ndarray)))
            if key not in numbers:
                numbers[key] = len(sets)
                sets.append(cell_sets(p.cells[None], first[None], second[None], law, preload[None]))
            which[i] = numbers[key]
    merged = merged_sets(sets)
    gas = [0.0 if p is None else (p.gas or 0.0) if fixed_amount else _rule(p) for p in pockets]
    densities = [0.0 if p is None else p.gas_density for p in pockets]
    shared: dict[str, ArrayLike] = {
        "which": which,
        "scale": [1.0 if p is None else p.law.scale for p in pockets],
        "gas": gas,
        "density": [r.water.density for r in rigs],
        "gas_density": densities,
        "gravity": [r.water.gravity for r in rigs],
    }
    if fixed_amount:
        return suit_arrays(merged, pressure=[r.water.pressure for r in rigs], **shared)
    return wing_arrays(merged, **shared)


def _rule(wing: Pocket) -> float:
    return np.nan if wing.gas is None else float(wing.gas)


def _columns(law: FillLaw) -> tuple[Floats, Floats, Floats, Law]:
    if isinstance(law, LogisticLaw):
        return law.lower, law.upper, np.zeros_like(law.lower), "logistic"
    if isinstance(law, GarmentLaw):
        return law.loft, law.slack, law.preload, "garment"
    raise ValueError(f"no batch form of the fill law {type(law).__name__}")


def _column(values: ArrayLike, n: int) -> Floats:
    column = np.asarray(values, dtype=float)
    return np.ascontiguousarray(column) if column.shape == (n,) else np.full(n, column)


def _points(values: ArrayLike, n: int) -> Floats:
    return np.broadcast_to(np.asarray(values, dtype=float), (n, 3))


def _positive(name: str, values: ArrayLike, n: int) -> Floats:
    column = _column(values, n)
    if not ((column > 0.0) & np.isfinite(column)).all():
        raise ValueError(f"{name} must be > 0 and finite")
    return column
