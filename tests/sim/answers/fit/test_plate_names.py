"""What plates are called where several are laid side by side."""

from __future__ import annotations

import pytest

from sim.answers.fit.plates import plate_names


@pytest.mark.parametrize(
    ("plates", "names"),
    [
        (["small steel"], ["small steel"]),
        (["small steel", "small steel; width=30 cm"], ["small steel", "small steel; width=30 cm"]),
        (["a/mine.dxf; unit=mm"], ["mine.dxf"]),
        (["a/mine.dxf; unit=mm", "b/other.dxf"], ["mine.dxf", "other.dxf"]),
        (
            ["a/mine.dxf; unit=mm; thickness=2 mm", "a/mine.dxf; unit=mm; thickness=3 mm"],
            ["mine.dxf; thickness=2 mm", "mine.dxf; thickness=3 mm"],
        ),
        (["mine.dxf; unit=mm", "mine.dxf; unit=mm; thickness=3 mm"], ["mine.dxf", "mine.dxf; thickness=3 mm"]),
        (["a/mine.dxf; unit=mm", "b/mine.dxf; unit=mm"], ["a/mine.dxf; unit=mm", "b/mine.dxf; unit=mm"]),
    ],
)
def test_a_name_says_what_tells_it_apart_and_no_more(plates: list[str], names: list[str]) -> None:
    assert plate_names(plates) == names
