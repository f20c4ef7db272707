"""The flat sheet with its measures: no line of a measure goes over another's opening."""

import pytest
import shapely

from sim.answers.plate.bench import bench_plate
from sim.answers.plate.drawn.flat_view import flat_view, on_paper
from sim.answers.plate.drawn.marks import Stroke


@pytest.mark.parametrize("name", ["small steel", "standard steel", "small carbon"])
def test_lines_of_measures_go_over_no_opening_but_that_in_which_they_begin(name: str) -> None:
    plate = bench_plate(name).plate
    holes = [shapely.Polygon(on_paper(hole)) for hole in plate.pattern.outline.holes]
    lines = [shapely.LineString(m.points) for m in flat_view(plate) if isinstance(m, Stroke) and m.look == "thin"]
    assert len(lines) > 2 * len(holes)
    over = [(line, hole) for line in lines for hole in holes if line.intersects(hole)]
    assert over
    assert all(hole.contains(shapely.Point(line.coords[0])) for line, hole in over)
