"""The plate: where it lies on the back, what it weighs, and that what hangs on it goes along."""

import numpy as np
import pytest


def waist_slots(worn):
    """Middle (3,) of the waist slots in body axes [m]."""
    return (worn.plate.waist_slots @ worn.seat.rotation.T + worn.seat.origin).mean(axis=0)


def test_waist_slots_hang_as_far_below_the_natural_waist_as_was_told(woman):
    """The origin is set by the slots' height, whatever the plate's tilt: a plate 3 cm lower has it 3 cm lower."""
    high, low = (woman(f"harness.drop={cm} cm").worn for cm in (0, 3))
    slots, waist = high.plate.waist_slots[:, 0].mean(), high.body.landmarks["natural waist back"][0]
    assert high.seat.origin[0] == pytest.approx(waist - slots, abs=1e-12)
    assert high.seat.origin[0] - low.seat.origin[0] == pytest.approx(0.03, abs=1e-12)
    assert (high.drop, low.drop) == (0.0, pytest.approx(0.03))
    # tilted by a few degrees, the slots are where they should be to a few millimetres
    assert waist_slots(high)[0] == pytest.approx(waist, abs=0.005)


def test_thicker_clothing_lifts_the_plate_off_the_back_by_what_is_left_of_it(woman):
    """10 mm more of loft, 0.35 of it left; along the plate's normal, so 1/cos(tilt) straight up."""
    thin, thick = (woman(f"suit.undergarment.loft={mm} mm").worn.seat for mm in (10, 20))
    tilt = np.arccos(thin.rotation[2, 2])
    assert thick.origin[2] - thin.origin[2] == pytest.approx(3.5e-3 / np.cos(tilt), rel=1e-9)
    np.testing.assert_array_equal(thick.rotation, thin.rotation)


def test_a_weighed_plate_weighs_so_and_keeps_its_shape(woman):
    made, weighed = ({p.name: p.solid for p in woman(*s).rig.parts}["plate"] for s in ((), ("plate.mass=3 kg",)))
    assert weighed.mass == pytest.approx(3.0, rel=1e-12)
    assert weighed.cm == pytest.approx(made.cm, abs=1e-12)


@pytest.mark.parametrize(
    ("material", "density"),
    [("stainless steel", 8000.0), ("aluminium", 2700.0), ("titanium", 4430.0), ("carbon laminate", 1550.0)],
)
def test_a_plate_is_as_dense_as_its_material(woman, material, density):
    """Metals by handbook tables, the laminate from memory."""
    plate = next(p.solid for p in woman(f"plate.material={material}").rig.parts if p.kind == "plate")
    assert plate.mass / plate.volume == pytest.approx(density, rel=1e-12)


def test_without_a_plate_the_rest_lies_as_on_the_usual_one(woman):
    """Left out, it weighs nothing and presses on nothing; what would hang on it stays where it was."""
    usual, without = woman("plate=standard steel"), woman("plate=none")
    assert without.worn is None
    there = {p.name: p.solid for p in without.rig.parts}
    assert "plate" not in there
    for part in usual.rig.parts:
        if part.told_by == "cylinders":
            assert there[part.name].cm == pytest.approx(part.solid.cm, abs=1e-12)
    # 0.3 of loft and slack is left where a plate presses: more room without one
    assert without.rig.suit.law.most.sum() > usual.rig.suit.law.most.sum()


def test_a_weight_fixed_to_the_plate_is_worn_with_it(woman):
    """Its place in body axes is where the plate's frame carries it."""
    weight = 'plate.added=[{name="weight", mass="1 kg", size=["80 mm", "50 mm", "25 mm"], from_top="290 mm"}]'
    bare, loaded = woman(), woman(weight)
    assert sum(p.solid.mass for p in loaded.rig.parts) - sum(p.solid.mass for p in bare.rig.parts) == pytest.approx(
        1.0, abs=1e-9
    )
    (part,) = [p for p in loaded.rig.parts if p.name == "plate: weight"]
    (addition,) = loaded.worn.plate.additions
    seat = loaded.worn.seat
    np.testing.assert_allclose(part.solid.cm, seat.rotation @ addition.solid.cm + seat.origin, atol=1e-12)
    assert part.told_by == "plate"
