"""Three set-ups of practice (A, E, G) on a sheet of paper: every item's weight in water, its place along the body.

The man of 180 cm and 80 kg, flat, arms ahead, knees bent; moments about the middle of the hips. Each figure has its
source in the table ("trade" is common practice, much is from memory) and a spread within which it is believed. The
column ``blind`` tells which figures were written down before the model's were seen, 25 of 37; the spreads were not.
Hood, gloves and mask had been forgotten, the gauge left out and the shell's fittings spread over the skin. For the
gas in the suit the first sheet had the model's litres, which proves nothing: it was estimated anew, from skin and
trade.

It says two things: no item of the model lies outside what is believed of it, and a sheet of paper has the man of
set-up A head-down by 22 N m, too, but cannot tell that from flat within 10 N m: its spread is 15 N m.
"""

import csv
from math import hypot
from pathlib import Path

import pytest

from sim.answers.evidence.practice import BY_HAND, assembled, weighed_lead, with_lead
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget

TABLE = Path(__file__).parent / "tables" / "moment_budget_by_hand.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
G = 9.81
# the model's parts that are an item of the sheet; by its own name where there is but one
PARTS = {
    "upper arms": ("left upper arm", "right upper arm"),
    "forearms with hands": ("left forearm with hand", "right forearm with hand"),
    "thighs": ("left thigh", "right thigh"),
    "lower legs with feet": ("left lower leg with foot", "right lower leg with foot"),
    "shell": ("drysuit",),
    "garment": ("undergarment",),
    "foam boots": ("boots",),
    "cylinders with air": ("left cylinder", "right cylinder", "air in left cylinder", "air in right cylinder",
                           "cylinder", "air in cylinder", "cylinder boots"),
    "valves": ("manifold with valves", "valve"),
    "bands": ("bands", "adapter"),
    "regulators and hoses": ("first stages", "second stages", "hoses", "pressure gauge"),
    "fins": ("left fin", "right fin"),
    "lead": ("lead, belt",),
}  # fmt: skip


def sheet(letter):
    """Of each item: weight [N] and moment about the hips [N m], plus turns head-up, each with its spread.

    The wing holds up the rest, so that a weight's error moves the lever from the item to the wing alone.
    """
    rows = [r for r in ROWS if letter in r["set_up"]]
    wing = next(r for r in rows if r["item"] == "gas in wing")
    at_wing, items = float(wing["place[m]"]), {}
    for row in rows:
        if row is wing:
            continue
        weight, by, place, off = (float(row[k]) for k in list(row)[2:6])
        mine = items.setdefault(row["item"], [0.0, 0.0, 0.0, 0.0, 0.0])
        mine[0] += weight
        mine[1] = hypot(mine[1], by)
        mine[2] -= weight * place
        mine[3] = hypot(mine[3], by * place, weight * off)
        mine[4] = hypot(mine[4], by * (place - at_wing), weight * off)
    held = -sum(w for w, *_ in items.values())
    items["gas in wing"] = [held, hypot(*(by for _, by, *_ in items.values())), -held * at_wing, 0.0,
                            abs(held) * float(wing["place_spread[m]"])]  # fmt: skip
    items["gas in wing"][3] = hypot(items["gas in wing"][1] * at_wing, items["gas in wing"][4])
    return items


@pytest.fixture(scope="module", params=["A", "E", "G"])
def both(request):
    """Letter, the sheet's items and the model's: (weight [N], moment [N m]) by its names; the whole moment."""
    letter = request.param
    made = assembled(letter, *with_lead(weighed_lead(letter)))
    soft = soft_rig(made.rig)
    flat = flat_answer(soft)
    names = {part: item for item, parts in PARTS.items() for part in parts}
    if letter == "G":
        names["boots"] = "foam boots"
    elif letter in "AE":
        names["boots"] = "boots"
    model = {}
    for part in moment_budget(soft, flat):
        weight = G * part.apparent_weight
        # what turns about the CM, about the hips
        turning = part.moment - weight * float(made.rig.held[0])
        w, m = model.get(names.get(part.name, part.name), (0.0, 0.0))
        model[names.get(part.name, part.name)] = (w + weight, m + turning)
    return letter, sheet(letter), model, flat.pitch_moment


def test_items_are_the_same(both):
    _, hand, model, _ = both
    assert set(hand) == set(model)


def test_each_item_lies_where_it_was_believed(both):
    _, hand, model, _ = both
    for item, (weight, by, moment, off, _) in hand.items():
        assert model[item][0] == pytest.approx(weight, abs=by), item
        assert model[item][1] == pytest.approx(moment, abs=off), item


def test_the_whole_is_the_sheets_within_its_spread_and_the_sheet_cannot_tell_ten_newton_metres(both):
    letter, hand, model, whole = both
    assert sum(m for _, m in model.values()) == pytest.approx(whole, abs=0.05)  # neutral: about whatever point
    total = sum(m for _, _, m, *_ in hand.values())
    spread = hypot(*(lever for *_, lever in hand.values()))
    assert whole == pytest.approx(total, abs=spread)
    assert f"{total:+.0f} +- {spread:.0f} N m" == BY_HAND[letter]  # as the evidence tells it
