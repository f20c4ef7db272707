"""A plate as files: for other programs, for the printer, and to look at."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from meshes.plate.edges import edges_of
from meshes.plate.written import write_flat, write_solid
from scenarios.errors import Problem, ScenarioError
from sim.answers.plate.answer import PlateAnswer
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.fixed import told_zones, zone_note
from sim.answers.plate.text import NEUTRAL
from sim.assembly.drawn_plate import density_of


def export_plate(bench: BenchPlate, path: Path, ending: str) -> None:
    """Write the bent solid (".stl", ".glb") or the flat pattern (".dxf").

    Raises ScenarioError for a flat pattern of a plate that was drawn as a solid.
    """
    with _blamed_on(bench):
        if ending == ".dxf":
            write_flat(bench.plate, path, _title(bench))
        else:
            write_solid(bench.plate, path, ending.removeprefix("."))


def draw_files(
    bench: BenchPlate, answer: PlateAnswer, drawing: Path | None, tiles: Path | None, picture: Path | None,
    paper: Literal["a4", "letter"] = "a4",
) -> None:  # fmt: skip
    """Draw the plate with its measures at full size on one sheet and in tiles of a paper, and as it looks.

    Raises ScenarioError for a plate that is too large to be drawn so.
    """
    with _blamed_on(bench):
        if drawing or tiles:
            from sim.answers.plate.drawn.sheet import draw_sheet, plate_drawing
            from sim.answers.plate.drawn.tiles import draw_tiles

            drawn = plate_drawing(bench.plate, answer)
            if drawing:
                draw_sheet(drawn, drawing)
            if tiles:
                draw_tiles(drawn, tiles, paper)
        if picture:
            from sim.answers.plate.drawn.picture import draw_plate

            draw_plate(bench.plate, bench.material, answer, picture)


@contextmanager
def _blamed_on(bench: BenchPlate) -> Iterator[None]:
    try:
        yield
    except ValueError as error:
        if isinstance(error, ScenarioError):
            raise
        raise ScenarioError([Problem(str(bench.path), str(error))]) from None


def _title(bench: BenchPlate) -> Iterator[str]:
    """What stands below the flat pattern."""
    plate = bench.plate
    yield bench.name
    yield f"{bench.table.material}, {density_of(bench.table):.0f} kg/m³, {1e3 * plate.thickness:.2f} mm thick"
    yield from (zone_note(zone) for zone in told_zones(plate, edges_of(plate.pattern.outline.outer)))
    yield f"{plate.solid.mass:.3f} kg; seen from behind, head up; bends: turn of what lies outside, inner R in mm"
    if plate.pattern.bends:
        yield NEUTRAL
