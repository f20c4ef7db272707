"""Tiles cover the drawing and share their overlap; sheets are of the standard sizes (ISO 216)."""

import itertools

import pytest

from sim.answers.plate.drawn.paper import Rectangle, sheet_for, tiled

SIZES = [(30.0, 30.0), (190.0, 277.0), (190.1, 277.0), (400.0, 535.0), (349.1, 460.0), (900.0, 50.0)]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_tiles_cover_all_and_neighbours_share_ten_millimetres(width: float, height: float) -> None:
    drawn = Rectangle(-120.0, 33.0, width, height)
    found = tiled(drawn)
    assert sorted(found.paper) == [210.0, 297.0]
    assert len(found.tiles) == found.rows * found.columns
    for one, other in itertools.combinations(found.tiles, 2):
        if one.row == other.row and abs(one.column - other.column) == 1:
            assert one.shown.left + one.shown.width - other.shown.left == pytest.approx(10.0, abs=1e-9)
            assert one.shown.bottom == other.shown.bottom
        if one.column == other.column and abs(one.row - other.row) == 1:
            assert other.shown.bottom + other.shown.height - one.shown.bottom == pytest.approx(10.0, abs=1e-9)
    assert min(t.shown.left for t in found.tiles) <= drawn.left
    assert max(t.shown.left + t.shown.width for t in found.tiles) >= drawn.left + width - 1e-6
    assert min(t.shown.bottom for t in found.tiles) <= drawn.bottom + 1e-6
    assert max(t.shown.bottom + t.shown.height for t in found.tiles) >= drawn.bottom + height


def test_as_few_pages_as_either_way_of_turning_them_needs() -> None:
    upright, across = tiled(Rectangle(0.0, 0.0, 190.0, 277.0)), tiled(Rectangle(0.0, 0.0, 277.0, 190.0))
    assert (len(upright.tiles), upright.paper) == (1, (210.0, 297.0))
    assert (len(across.tiles), across.paper) == (1, (297.0, 210.0))
    assert len(tiled(Rectangle(0.0, 0.0, 277.1, 190.0)).tiles) == 2


def test_no_wallpaper() -> None:
    with pytest.raises(ValueError, match=r"\d+ pages of A4, more than 60; is its unit right"):
        tiled(Rectangle(0.0, 0.0, 2900.0, 2900.0))


@pytest.mark.parametrize(
    ("width", "height", "name", "size"),
    [
        (190.0, 277.0, "A4", (210.0, 297.0)),
        (277.0, 190.0, "A4", (297.0, 210.0)),
        (191.0, 277.0, "A3", (297.0, 420.0)),
        (400.0, 574.0, "A2", (420.0, 594.0)),
        (1000.0, 2000.0, "1020 × 2020 mm", (1020.0, 2020.0)),
    ],
)
def test_the_smallest_sheet_that_holds_it(width: float, height: float, name: str, size: tuple[float, float]) -> None:
    assert sheet_for(width, height) == (name, size)
