"""Words wrapped by the letters' own widths."""

import pytest

from sim.drawing.canvas import new_figure
from sim.drawing.letters import set_width, wrapped_to


def test_a_number_keeps_its_unit():
    lines = wrapped_to("it takes 5 N m and 44 % of 12 kg", 30.0, 10.0)
    assert lines == ["it", "takes", "5 N m", "and", "44 %", "of", "12 kg"]


def test_nothing_takes_no_line():
    assert wrapped_to("  \n ", 30.0, 10.0) == []


@pytest.mark.filterwarnings("ignore:Glyph")  # as own_style has it, once for a process
@pytest.mark.parametrize("letter", ["板", "😀", "힣", "\x07"])
def test_a_letter_that_the_font_lacks_is_as_wide_as_the_box_that_is_drawn_for_it(letter: str) -> None:
    figure = new_figure((4.0, 1.0), 72.0)
    text = figure.text(0.1, 0.5, 10 * letter, fontsize=20.0, parse_math=False)
    wide = text.get_window_extent().width
    # ink only: a letter's own side bearings are left out at both ends; to whole pixels
    assert set_width(10 * letter, 20.0) == pytest.approx(wide, rel=0.06)
    assert wrapped_to(f"plate {letter}", 1000.0, 20.0) == [f"plate {letter}"]
