"""How the skin is shared out over an adult: the burns chart of Lund & Browder 1944, one for both sexes, from memory.

A drysuit's gas lies over the skin, so that where it pulls hangs on these shares: head and neck 9 % (7 and 2), trunk,
buttocks and genitals 32 (13, 13, 5, 1), thighs 19, lower legs 14, feet 7, upper arms 8, forearms 6, hands 5. Where
the neck, the groin and the armhole are cut differs, so that trunk, thighs, neck and head are held together, and the
whole arm with its hand.
"""

import pytest

from meshes.body.topology import SEGMENTS
from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body

# per cent of the skin, and how far ours may lie off: the chart's steps are a whole per cent for a pair of limbs, and
# a ring of skin 3 cm wide, where a limb is cut, is 0.8 (shoulder) or 0.5 per cent (knee, ankle) a side
SHARES = {
    "trunk, thighs, head": (9 + 32 + 19, 2.5), "arms with hands": (8 + 6 + 5, 2.5), "lower legs": (14, 1.5),
    "feet": (7, 1.5),
}  # fmt: skip
LIMBS = {"upper arm": "arms with hands", "forearm": "arms with hands", "hand": "arms with hands",
         "shank": "lower legs", "foot": "feet"}  # fmt: skip


@pytest.mark.parametrize(("sex", "height", "mass"), [("male", 1.756, 78.0), ("female", 1.628, 62.0)])
def test_shares_of_the_skin(sex, height, mass):
    skin = posed_body(person_of(sex, height, mass), POSES["upright"]).skin
    share = dict.fromkeys(SHARES, 0.0)
    for segment, area in zip(skin.segment, skin.area, strict=True):
        assert segment in SEGMENTS
        limb = segment.removeprefix("left ").removeprefix("right ")
        share[LIMBS.get(limb, "trunk, thighs, head")] += 100.0 * area / skin.area.sum()
    for part, (percent, off) in SHARES.items():
        assert share[part] == pytest.approx(percent, abs=off), part
