"""Words wrapped by the letters' own widths."""

from sim.drawing.letters import wrapped_to


def test_a_number_keeps_its_unit():
    lines = wrapped_to("it takes 5 N m and 44 % of 12 kg", 30.0, 10.0)
    assert lines == ["it", "takes", "5 N m", "and", "44 %", "of", "12 kg"]


def test_nothing_takes_no_line():
    assert wrapped_to("  \n ", 30.0, 10.0) == []
