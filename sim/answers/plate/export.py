"""A plate as files for other programs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from meshes.plate.written import write_flat, write_solid
from scenarios.errors import Problem, ScenarioError
from sim.answers.plate.bench import BenchPlate
from sim.assembly.drawn_plate import density_of


def export_plate(bench: BenchPlate, path: Path, ending: str) -> None:
    """Write the bent solid (".stl", ".glb") or the flat pattern (".dxf").

    Raises ScenarioError for a flat pattern of a plate that was drawn as a solid.
    """
    if ending != ".dxf":
        write_solid(bench.plate, path, ending.removeprefix("."))
        return
    try:
        write_flat(bench.plate, path, _title(bench))
    except ValueError as error:
        raise ScenarioError([Problem(str(bench.path), str(error))]) from None


def _title(bench: BenchPlate) -> Iterator[str]:
    """What stands below the flat pattern."""
    plate = bench.plate
    yield bench.name
    yield f"{bench.table.material}, {density_of(bench.table):.0f} kg/m^3, {1e3 * plate.thickness:.2f} mm thick"
    yield f"{plate.solid.mass:.3f} kg; seen from behind, head up; bends: turn of what lies outside, inner R in mm"
