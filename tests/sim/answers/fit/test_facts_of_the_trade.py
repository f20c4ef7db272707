"""What the trade knows of plates and backs (common practice), as it comes out of this geometry.

The twin set is that of the demo divers; bands sit where they usually do, 5 cm below the cylinders' shoulders, or as
high as they go, 2.5 cm below. Bodies are those that the survey's means give for sex, height and mass.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.answer import failing, fit_answer, found_on
from sim.answers.fit.demands.demand import Finding
from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.demands.shoulder_straps import SHOULDER_STRAPS
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.look_ahead import look_ahead
from sim.answers.fit.on_back import on_back
from sim.answers.fit.reach import valve_reach
from sim.answers.fit.set_up import set_ups
from sim.answers.fit.verdict import Verdict
from sim.assembly.assembled import Assembled, Worn
from sim.case import Case

STANDARD, SMALL = "standard steel", "small steel"
USUAL, HIGH = "cylinders.shift=0 cm", "cylinders.shift=-2.5 cm"
WOMEN = {156: 52, 161: 56, 166: 60, 171: 64, 176: 68}  # cm, kg


@cache
def dressed(sex: str, height: int, mass: int, plate: str, *more: str) -> Assembled:
    person = (f"diver.sex={sex}", f"diver.height={height} cm", f"diver.mass={mass} kg", "diver.measures={}")
    return Case.read(demo_path("small-woman-steel"), (*person, f"plate={plate}", *more)).assembled


def worn(rig: Assembled) -> Worn:
    assert rig.worn is not None
    return rig.worn


def lowered(drop: float) -> str:
    return f"harness.drop={100.0 * drop:.3f} cm"


def sees(rig: Assembled) -> bool:
    return told(rig, LOOKS_AHEAD)["look-ahead"].passes is True


def told(rig: Assembled, finding: Finding) -> dict[str, Verdict]:
    return {v.subject: v for v in finding.verdicts(found_on(rig))}


def reaches(rig: Assembled) -> bool:
    """Both hands turn their valves."""
    found = told(rig, VALVE_REACH)
    return bool(found["left valve"].passes and found["right valve"].passes)


@pytest.mark.parametrize("height", WOMEN)
def test_on_a_woman_the_standard_plate_at_the_waist_bars_the_head(height: int) -> None:
    rig = dressed("female", height, WOMEN[height], STANDARD, USUAL)
    ahead = look_ahead(worn(rig), rig.rig)
    assert on_back(worn(rig)).place == "on the waist"
    assert not sees(rig)
    assert ahead.gear < ahead.free


@cache
def lowest_blind(height: int) -> float:
    """The greatest drop [m] at which she does not see yet, to half a millimetre; lower she does, at every drop."""
    low, high = 0.0, 0.08
    while high - low > 0.0005:
        drop = 0.5 * (low + high)
        low, high = (low, drop) if sees(standard_on_her(height, lowered(drop))) else (drop, high)
    return low


def standard_on_her(height: int, *more: str) -> Assembled:
    return dressed("female", height, WOMEN[height], STANDARD, USUAL, *more)


@pytest.mark.parametrize("height", WOMEN)
def test_lowered_until_she_sees_ahead_the_strap_is_on_the_hips(height: int) -> None:
    """Longer shoulder straps only, bands as they are: where sight begins the strap is off the waist already.

    Up to 166 cm its middle is below the top of the hip bones by then; at 171 and 176 cm, whose backs are longer, the
    lower 2 and 1 cm of the webbing lie over them, which is more than half a centimetre and counts as on the hips.
    """
    drop = lowest_blind(height)
    low = standard_on_her(height, lowered(drop + 0.001))
    on = on_back(worn(low))
    assert sees(low)
    assert not sees(standard_on_her(height, lowered(drop - 0.005)))
    assert on.place == "on the hips"
    if height <= 166:
        assert on.waist_strap < on.crest
    else:
        assert on.waist_strap - 0.5 * 0.05 < on.crest - 0.005  # m: webbing 5 cm wide, felt from half a centimetre on
    strap = told(low, WAIST_STRAP)["waist strap"]
    assert strap.passes is False
    assert "over the hip bones" in strap.sentence or "below the crotch" in strap.sentence


@pytest.mark.parametrize(("height", "bands"), [(156, HIGH), (161, USUAL), (166, USUAL), (171, USUAL), (176, USUAL)])
def test_the_small_plate_solves_both(height: int, bands: str) -> None:
    """On the smallest its bands go up, too: the bolts' spacing leaves no smaller plate."""
    rig = dressed("female", height, WOMEN[height], SMALL, bands)
    assert on_back(worn(rig)).place == "on the waist"
    assert sees(rig)
    assert reaches(rig)
    assert not sees(dressed("female", height, WOMEN[height], STANDARD, bands))


@pytest.mark.parametrize("height", WOMEN)
def test_bands_set_for_her_the_small_plate_passes_at_the_waist(height: int) -> None:
    """Bands and height are looked for as anybody sets a diver up; hers stays at the natural waist."""
    small = set_ups(worn(dressed("female", height, WOMEN[height], SMALL, USUAL))).nearest
    assert small is not None
    assert small.drop == 0.0


@pytest.mark.parametrize("height", WOMEN)
def test_no_height_mends_the_standard_plate_and_bands_only_on_the_longer_backs(height: int) -> None:
    """Every height with the strap on the waist and every usual place of the bands is tried.

    Up to 166 cm nothing mends it. At 171 and 176 cm the bands have to go up by a centimetre or two.
    """
    standard = set_ups(worn(standard_on_her(height)))
    assert not standard.as_worn.passes
    if height <= 166:
        assert standard.nearest is None
        assert standard.barred_by == ("look-ahead",)
    else:
        assert standard.nearest is not None
        assert standard.nearest.shift <= -0.01


def test_on_a_tall_man_the_standard_plate_sits_well_and_the_small_one_hides_the_valves() -> None:
    """The isolator too, which needs his head to give way. The small one's bands would have to go 3 cm lower."""
    rig = dressed("male", 190, 90, STANDARD, USUAL)
    assert failing(rig) == ()
    assert sees(rig)
    assert all(v.passes for v in told(rig, VALVE_REACH).values())
    small = dressed("male", 190, 90, SMALL, USUAL)
    assert sees(small)
    found = valve_reach(worn(small))
    assert all(h.margin < 0.0 for h in found if h.valve != "isolator")
    assert {name: v.passes for name, v in told(small, VALVE_REACH).items()} == dict.fromkeys(
        ("left valve", "right valve", "isolator"), False
    )
    nearest = set_ups(worn(small)).nearest
    assert nearest is not None
    assert nearest.shift - nearest.drop >= 0.03


@pytest.mark.parametrize("height", [156, 166])
def test_slots_of_the_standard_plate_are_too_far_apart_for_narrow_shoulders(height: int) -> None:
    """Biacromial breadth 335 mm, which 5 % of women fall short of (ANSUR II: 365 +- 18 mm)."""
    narrow = "diver.measures={biacromial_breadth = '33.5 cm'}"
    rigs = (dressed("female", height, WOMEN[height], plate, USUAL, narrow) for plate in (STANDARD, SMALL))
    found = [told(rig, SHOULDER_STRAPS)["shoulder straps"] for rig in rigs]
    assert [v.passes for v in found] == [False, True]
    assert "straps slide off" in found[0].sentence


def test_lower_gives_sight_and_takes_reach() -> None:
    rig = dressed("female", 166, 60, STANDARD, USUAL)
    ways = [worn(dressed("female", 166, 60, STANDARD, USUAL, lowered(d))) for d in (0.0, 0.03, 0.06, 0.09)]
    lifts = [look_ahead(w, rig.rig).gear for w in ways]
    reach = [min(h.margin for h in valve_reach(w)) for w in ways]
    assert (np.diff(lifts) > 0.0).all()
    assert (np.diff(reach) < 0.0).all()


@pytest.mark.parametrize(
    ("demo", "plate", "fails"),
    [
        ("tall-man-steel", STANDARD, set()),
        ("tall-man-steel", SMALL, {"left valve", "right valve", "isolator"}),
        ("small-woman-steel", STANDARD, {"look-ahead", "plate width"}),
        ("small-woman-steel", SMALL, set()),
    ],
)
def test_the_demo_divers_show_it(demo: str, plate: str, fails: set[str]) -> None:
    answer = fit_answer(Case.read(demo_path(demo), [f"plate={plate}"]).assembled)
    assert {v.subject for v in answer.verdicts if v.passes is False} == fails
