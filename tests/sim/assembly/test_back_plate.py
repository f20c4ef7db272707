"""A plate from its table: one that is upside down is refused, and measures told replace the catalogue's."""

import pytest

from scenarios.back_gear import OptionalPlate
from sim.assembly import back_plate
from sim.assembly.back_plate import plate_from


@pytest.fixture
def table():
    """The table of a plate by its keys."""
    from pydantic import TypeAdapter

    return TypeAdapter(OptionalPlate).validate_python


def test_measures_told_are_the_plates(table):
    plate = plate_from(
        table({"catalogue": "standard steel", "length": "38 cm", "width": "26 cm", "thickness": "4 mm"})
    )
    assert plate.top[0] - plate.bottom[0] == pytest.approx(0.38, abs=1e-6)
    assert plate.width == pytest.approx(0.26, abs=1e-6)
    assert plate.thickness == pytest.approx(4e-3, rel=1e-12)


def test_a_small_plate_is_shorter(table):
    small, standard = (plate_from(table(f"{name} steel")) for name in ("small", "standard"))
    assert small.top[0] - small.bottom[0] < standard.top[0] - standard.bottom[0] - 0.02


def test_shoulder_slots_below_waist_slots_are_refused(table, monkeypatch):
    """10 cm below, as drawn upside down."""
    from dataclasses import replace

    told = table("standard steel")
    good = plate_from(told)
    turned = replace(good, shoulder_slots=good.waist_slots - [0.1, 0.0, 0.0])
    monkeypatch.setattr(back_plate, "_built", lambda _: turned)
    with pytest.raises(ValueError, match="shoulder slots lie 100 mm below its waist slots: which end is the top"):
        plate_from(told)
