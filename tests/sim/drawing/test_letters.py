"""Words wrapped by the letters' own widths."""

import pytest

from sim.drawing.canvas import blank, new_figure, points
from sim.drawing.letters import parted, set_width, size_for, wrapped_to


def test_a_number_keeps_its_unit():
    lines = wrapped_to("it takes 5 N m and 44 % of 12 kg", 30.0, 10.0)
    assert lines == ["it", "takes", "5 N m", "and", "44 %", "of", "12 kg"]


def test_only_a_word_too_long_for_a_line_is_parted():
    word = "Unterwasserscheinwerferhalterungsschelle"
    assert parted(f"a clip, {word}", set_width(word, 10.0), 10.0) == f"a clip, {word}"
    broken = parted(f"a clip, {word}", 80.0, 10.0)
    assert broken.replace(" ", "") == f"aclip,{word}"
    lines = wrapped_to(broken, 80.0, 10.0)
    assert max(set_width(line, 10.0) for line in lines) <= 80.0
    assert len(lines) == 4  # the clip, and 216 wide by the font's own advances


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


@pytest.mark.parametrize("width", [640, 800, 1600, 2400])
@pytest.mark.parametrize("bold", [False, True])
def test_a_line_set_smaller_fits_as_it_is_drawn(width, bold):
    """In pixels of the picture itself, where hinting moves every letter."""
    canvas = blank((width, width * 5 // 8))
    lines = [
        "Waagerecht gehalten: Du wirst mit 2,3 N m kopfhoch gedreht (wie 0,5 kg, einen halben Meter versetzt), und",
        "Trzymany poziomo: skręca cię 15,7 N m głową w dół (jak 3,2 kg przesunięte o pół metra), i tak zostaje dalej",
        "small woman, standard steel plate, too long for her, and some more of her, as titles of files may be",
    ]
    for line in lines:
        for room in (900.0, 1100.0, 1500.0):
            size = size_for(line, room, 40.0, bold=bold, zoom=canvas.zoom)
            text = canvas.axes.text(0, 0, line, fontsize=points(size), fontweight="bold" if bold else "normal")
            assert text.get_window_extent(canvas.figure.canvas.get_renderer()).width <= room * canvas.zoom
    assert size_for("short", 900.0, 40.0) == 40.0
    assert size_for("long " * 200, 900.0, 40.0, least=20.0) == 20.0
