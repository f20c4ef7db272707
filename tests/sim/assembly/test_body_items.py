"""The body as items: whose the lungs' gas is, and that the split at knee and elbow changes nothing."""

import pytest

from sim.assembly.body_items import outside_of_items


def items(assembled):
    return {p.name: p.solid for p in assembled.rig.parts if p.kind == "body"}


def test_gas_in_the_lungs_is_the_trunks(single):
    """A litre more of it displaces a litre more there, weighs nothing, and moves nothing else."""
    less, more = (items(single(f"diver.lung_gas={v} l")) for v in (2, 3))
    grown = [name for name in less if more[name].volume != less[name].volume]
    assert grown == ["trunk with lungs"]
    assert more["trunk with lungs"].volume - less["trunk with lungs"].volume == pytest.approx(1e-3, rel=1e-9)
    assert more["trunk with lungs"].mass == less["trunk with lungs"].mass


def test_ten_items_weigh_what_the_diver_says(single):
    found = items(single("diver.mass=80 kg"))
    assert len(found) == 10
    assert sum(s.mass for s in found.values()) == pytest.approx(80.0, rel=1e-9)


def test_each_side_is_the_others_mirror_image(single):
    found = items(single())
    for name, solid in found.items():
        if name.startswith("left "):
            twin = found["right " + name.removeprefix("left ")]
            assert twin.mass == pytest.approx(solid.mass, rel=1e-12)
            assert twin.cm == pytest.approx(solid.cm * [1.0, -1.0, 1.0], abs=1e-9)


def test_every_segment_has_an_outside_under_the_name_of_its_item(single):
    assembled = single()
    outside = outside_of_items(assembled.worn.body)
    assert len(outside) == 16
    assert {name for name, _ in outside} == set(items(assembled))
    assert [n for n, _ in outside].count("trunk with lungs") == 3


def test_what_was_estimated_of_the_person_is_told(single):
    assert "lung gas" in single().estimated
    assert "lung gas" not in single("diver.lung_gas=3 l").estimated
