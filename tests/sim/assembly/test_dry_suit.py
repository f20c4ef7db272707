"""A drysuit: what its cloth weighs and where, and how gear that presses on it takes room from the gas."""

import numpy as np
import pytest

from meshes.solid import combined

ON = "small-woman-steel"


def item(assembled, name):
    return next(p.solid for p in assembled.rig.parts if p.name == name)


def clad(assembled):
    """Patches of the skin under a drysuit: their area (n,), centre and normal (n, 3), and segment."""
    skin = assembled.worn.body.skin
    bare = np.isin(skin.segment, ["head", "left hand", "right hand"])
    return skin.area[~bare], skin.centre[~bare], skin.normal[~bare], np.array(skin.segment)[~bare]


def test_heavier_cloth_weighs_more_by_the_skin_it_covers(woman):
    """100 g/m^2 more on all but head and hands; what is weighed whole weighs so."""
    thin, thick = (woman(f"suit.mass_per_area={g} g/m^2") for g in (400, 500))
    area = clad(thin)[0].sum()
    assert item(thick, "drysuit").mass - item(thin, "drysuit").mass == pytest.approx(0.1 * area, rel=1e-9)
    assert item(woman("suit.mass=3.3 kg"), "drysuit").mass == pytest.approx(3.3, rel=1e-12)


def test_zip_and_valves_are_sewn_in_at_the_upper_trunk(woman):
    """1 kg more of them at 1800 kg/m^3 (assumed): as much first moment more as lies over the upper trunk."""
    less, more = (woman(f"suit.fittings_mass={kg} kg") for kg in (0.5, 1.5))
    before, after = item(less, "drysuit"), item(more, "drysuit")
    assert after.volume - before.volume == pytest.approx(1.0 / 1800.0, rel=1e-9)
    area, centre, _, segment = clad(less)
    chest = segment == "upper trunk"
    place = (after.mass * after.cm - before.mass * before.cm) / (after.mass - before.mass)
    middle = area[chest] @ centre[chest] / area[chest].sum()
    assert place == pytest.approx(middle, abs=0.012)  # the undergarment's thickness off the skin


def test_an_undergarment_weighs_by_area_and_displaces_by_its_fibre(woman):
    thin, thick = (woman(f"suit.undergarment.mass_per_area={g} g/m^2") for g in (300, 400))
    one, two = (item(x, "undergarment") for x in (thin, thick))
    assert two.mass - one.mass == pytest.approx(0.1 * clad(thin)[0].sum(), rel=1e-9)
    fibre = one.mass / one.volume
    assert two.mass / two.volume == pytest.approx(fibre, rel=1e-12)
    assert 900.0 < fibre < 1500.0  # polyester, polyamide and wool


def test_cloth_lies_where_the_garment_puts_it(woman):
    """Evenly over the skin it covers: the undergarment in the middle of its gas, the shell outside all of it."""
    assembled = woman("suit.undergarment.loft=12 mm", "suit.fittings_mass=0 kg")
    area, centre, normal, _ = clad(assembled)
    fibre = item(assembled, "undergarment").mass / item(assembled, "undergarment").volume
    gas = 0.012 - item(assembled, "undergarment").mass / area.sum() / fibre
    for name, off in (("undergarment", 0.5 * gas), ("drysuit", gas)):
        place = area @ (centre + off * normal) / area.sum()
        assert item(assembled, name).cm == pytest.approx(place, abs=1e-9), name
        assert item(assembled, name).cb == pytest.approx(place, abs=1e-9), name


def test_a_shell_of_foam_thins_with_depth_and_one_of_laminate_does_not(woman):
    def volume(suit, depth):
        return item(woman(f"suit={suit}", f"water.depth={depth} m"), "drysuit").volume

    assert volume("trilaminate", 3) == volume("trilaminate", 30)
    assert volume("crushed neoprene", 30) < volume("crushed neoprene", 3)


def room(assembled):
    """Gas (n,) with each cell relaxed, and with it taut [m^3]."""
    law = assembled.rig.suit.law
    return law.loft, law.most


def test_webbing_takes_half_the_room_under_it_all_over_the_trunk(woman):
    """5 cm wide, as long as waist and vertical trunk girth together, spread over the trunk; half is left under it."""
    with_it, without = woman(), woman("harness=none")
    area, _, _, segment = clad(with_it)
    trunk = np.isin(segment, ["lower trunk", "middle trunk", "upper trunk"])
    measures = with_it.worn.body.person.measures
    share = 0.05 * (measures["waistcircumference"] + measures["verticaltrunkcircumferenceusa"]) / area[trunk].sum()
    ratio = room(with_it)[0] / room(without)[0]
    assert ratio[trunk] == pytest.approx(1.0 - 0.5 * share, rel=1e-9)
    assert ratio[~trunk] == pytest.approx(1.0, rel=1e-12)


def test_a_fins_pocket_takes_room_from_the_boot_in_it(woman):
    """0.6 of the boot sits in it, where 0.3 of the room is left (both assumed)."""
    with_them, without = woman(), woman("fins=none")
    feet = np.isin(clad(with_them)[3], ["left foot", "right foot"])
    ratio = room(with_them)[1] / room(without)[1]
    assert ratio[feet] == pytest.approx(1.0 - 0.6 * 0.7, rel=1e-9)
    assert ratio[~feet] == pytest.approx(1.0, rel=1e-12)


def test_a_plate_leaves_three_tenths_of_the_room_under_it(woman):
    """On patches of the trunk that face back and lie between its ends and sides; none elsewhere."""
    with_it, without = woman("harness=none"), woman("harness=none", "plate=none")
    _, centre, normal, segment = clad(with_it)
    ratio = room(with_it)[0] / room(without)[0]
    pressed = ratio < 0.999
    assert ratio[pressed] == pytest.approx(0.3, rel=1e-9)
    assert 2 <= pressed.sum() <= 8
    assert np.isin(segment[pressed], ["lower trunk", "middle trunk", "upper trunk"]).all()
    assert (normal[pressed, 2] > 0.4).all()
    half = 0.5 * with_it.worn.plate.width
    assert (np.abs(centre[pressed, 1]) < half).all()


def test_gas_lies_in_the_middle_of_the_garment(woman):
    """Half the thickness of gas over the skin: loft less fibre."""
    assembled = woman("suit.undergarment.loft=12 mm", "suit.undergarment.mass_per_area=300 g/m^2")
    _, centre, normal, _ = clad(assembled)
    fibre = item(assembled, "undergarment").mass / item(assembled, "undergarment").volume
    gas = 0.012 - 0.3 / fibre
    off = np.einsum("ij,ij->i", assembled.rig.suit.cells - centre, normal)
    assert off == pytest.approx(0.5 * gas, rel=1e-6)


def test_a_logistic_law_holds_the_free_room_that_was_told(woman):
    law = woman("suit.fill_law=logistic", "suit.free_room=18 l", "suit.softness=500 Pa", "harness=none").rig.suit.law
    assert law.most.sum() == pytest.approx(18e-3, rel=1e-9)
    assert law.scale == 500.0


def test_all_cloth_together_is_as_symmetric_as_the_body(woman):
    assembled = woman()
    cloth = combined([p.solid for p in assembled.rig.parts if p.kind == "suit"])
    assert cloth.cm[1] == pytest.approx(0.0, abs=1e-9)
