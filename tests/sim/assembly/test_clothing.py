"""What is worn on the trunk lies between the diver and the rest: all of it, or what is left of it when squeezed."""

import pytest


def test_a_drysuits_shell_and_loft_lie_on_the_trunk(woman):
    """14 mm of loft and a shell of 0.4 mm; 0.35 of it is left under the plate, half of it under webbing (assumed)."""
    worn = woman("suit.thickness=0.4 mm", "suit.undergarment.loft=14 mm", "suit.hood_thickness=7 mm").worn
    assert worn.clothing == pytest.approx(14.4e-3, rel=1e-12)
    assert worn.padding == pytest.approx(0.35 * 14.4e-3, rel=1e-12)
    assert worn.under_straps == pytest.approx(0.5 * 14.4e-3, rel=1e-12)
    assert worn.hood == pytest.approx(7e-3, rel=1e-12)


def test_a_shell_with_nothing_under_it_has_its_folds(woman):
    worn = woman("suit.thickness=0.4 mm", "suit.undergarment=none").worn
    assert worn.clothing == pytest.approx(1.4e-3, rel=1e-12)  # a millimetre of folds, assumed


def test_a_wetsuit_is_as_thick_as_it_says_and_no_suit_is_nothing(single):
    assert single("suit=wetsuit 7 mm", "suit.hood_thickness=5 mm").worn.clothing == pytest.approx(7e-3, rel=1e-12)
    bare = single("suit=none").worn
    assert (bare.clothing, bare.padding, bare.under_straps, bare.hood) == (0.0, 0.0, 0.0, 0.0)
