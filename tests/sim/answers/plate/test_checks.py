"""What a plate is held against: openings and bends that meet."""

import math
from pathlib import Path

import pytest

from sim.answers.plate.bench import bench_plate, option_settings
from sim.answers.plate.checks import PlateCheck, not_asked, plate_checks
from sim.answers.plate.text import check_lines

WIDE, LONG, SLOT = 240.0, 390.0, (70.0, 355.0)  # mm; the slot's middle is 50 mm left of the middle line


def drawn(folder: Path, bend: str) -> list[PlateCheck]:
    """Checks of a flat sheet with two bolt holes and a left slot 54 mm across, bent as ``bend`` says."""
    import ezdxf

    drawing = ezdxf.new()
    drawing.units = 4
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 0), (WIDE, 0), (WIDE, LONG), (0, LONG)], close=True)
    for y in (50.0, 329.4):
        space.add_circle((WIDE / 2, y), 4.5)
    for x in (SLOT[0], WIDE - SLOT[0]):
        y = SLOT[1]
        space.add_lwpolyline([(x - 27, y - 5), (x + 27, y - 5), (x + 27, y + 5), (x - 27, y + 5)], close=True)
    drawing.saveas(folder / "sheet.dxf")
    options = option_settings([("material", "aluminium"), ("thickness", "3 mm"), ("bends", bend)])
    return list(plate_checks(bench_plate(folder / "sheet.dxf", options)))


def to_bend(checks: list[PlateCheck], of: str) -> PlateCheck | None:
    return next((c for c in checks if (c.of, c.what) == (of, "sheet to the bend")), None)


@pytest.mark.parametrize("out", [32, 50, 70])
def test_a_bend_across_a_slot_is_said_to_run_through_it(tmp_path: Path, out: int) -> None:
    """The slot reaches from 23 to 77 mm from the middle line: there is no sheet between, and no length to tell."""
    checks = drawn(tmp_path, f'[{{ offset = "{out} mm", angle = "45 deg", radius = "9 mm" }}]')
    for side in ("left", "right"):
        check = to_bend(checks, f"{side} shoulder slot")
        assert check is not None
        assert (check.measured, check.passes, check.missing) == (None, False, "the bend runs through it")
        assert check.least == pytest.approx(0.006)
    (line,) = [one for one in check_lines(checks) if "the bend runs through it" in one]
    assert line.split()[:4] == ["NO", "shoulder", "slot,", "both"]
    assert all(c.measured is None or c.measured >= 0.0 for c in checks)


def test_beside_a_bend_the_sheet_between_is_measured(tmp_path: Path) -> None:
    """A bend of 45 degrees, of 9 mm at the middle of the sheet, is 9 pi/4 mm wide, half of it on each side."""
    checks = drawn(tmp_path, '[{ offset = "90 mm", angle = "45 deg", radius = "9 mm" }]')
    check = to_bend(checks, "left shoulder slot")
    assert check is not None
    half = 0.5 * 0.009 * math.pi / 4
    assert check.measured == pytest.approx(0.090 - 0.077 - half, abs=1e-8)
    assert check.passes


@pytest.mark.parametrize(("radius", "asked"), [(59.0, True), (61.0, False)])
def test_holes_are_not_held_against_a_rolled_sheet(tmp_path: Path, radius: float, asked: bool) -> None:
    """From 20 thicknesses on; the reason is told with the strain of the faces, half the thickness over the radius."""
    bend = f'[{{ offset = "50 mm", angle = "20 deg", radius = "{radius:g} mm" }}]'
    checks = drawn(tmp_path, bend)
    check = to_bend(checks, "left shoulder slot")
    assert (check is not None) is asked
    assert sum(c.what == "inner radius" for c in checks) == 2
    options = option_settings([("material", "aluminium"), ("thickness", "3 mm"), ("bends", bend)])
    told = not_asked(bench_plate(tmp_path / "sheet.dxf", options))
    assert [f"of 61.0 mm, stretches the sheet's faces by {100.0 * 1.5 / 61.0:.1f} %" in one for one in told] == (
        [] if asked else [True]
    )
