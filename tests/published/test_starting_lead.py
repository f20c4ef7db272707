"""Starting lead: two tables of the trade with one ancestor, read as figures in a collection of references.

"Sea, one cylinder: shell suit 10 % of body mass + 1.5 to 2.3 kg (light underwear), + 3 to 6.4 kg (heavy); neoprene
drysuit + 3 to 4.5; 7 mm wetsuit + 1.5 to 2.3. Fresh to sea: 2 kg (45 to 56 kg), 2.3 kg (57 to 70), 3 kg (71 to 85)
more." A rule for a first guess: such tables err to the heavy side, and their divers wear padded jackets. Most rows
fail, by up to 5 kg, and stand failing in the evidence; what must hold is which way lead goes.
"""

import pytest

from sim.answers.evidence.check import table, worked_out
from sim.answers.evidence.starting_lead import checks, lead

MAN, HEAVY_MAN, WOMAN = ("male", "180 cm", "80 kg"), ("male", "186 cm", "100 kg"), ("female", "167 cm", "60 kg")


def test_the_table_is_the_trades():
    found = {(r["suit"], r["undergarment"]): (r["more_from[kg]"], r["more_to[kg]"]) for r in table("starting_lead")}
    assert found == {
        ("trilaminate", "thin"): ("1.5", "2.3"), ("trilaminate", "heavy"): ("3.0", "6.4"),
        ("crushed neoprene", "thin"): ("3.0", "4.5"), ("wetsuit 7 mm", ""): ("1.5", "2.3"),
    }  # fmt: skip
    assert {r["share_of_body_mass[-]"] for r in table("starting_lead")} == {"0.10"}
    assert len(checks()) == 4 * 3 + 1


@pytest.mark.parametrize("who", [MAN, WOMAN])
def test_a_wetsuits_lead_is_the_trades_within_a_block(who):
    """7 mm neoprene hangs on no venting and no garment: within 1 kg of the trade's middle."""
    middle = 0.1 * float(who[2].split()[0]) + 1.9
    assert lead(*who, "wetsuit 7 mm", "") == pytest.approx(middle, abs=1.0)


def test_lead_goes_the_ways_that_the_trade_knows():
    assert lead(*MAN, "trilaminate", "heavy") > lead(*MAN, "trilaminate", "thin") + 1.5  # 3 - 1.5 kg at the least
    assert lead(*HEAVY_MAN, "wetsuit 7 mm", "") > lead(*MAN, "wetsuit 7 mm", "")
    sea, fresh = lead(*MAN, "trilaminate", "heavy"), lead(*MAN, "trilaminate", "heavy", "fresh")
    assert sea - fresh == pytest.approx(3.0, abs=0.5)


def test_a_row_of_the_evidence_is_this_diver():
    row = next(c for c in checks() if c.name == "starting lead, 80 kg, wetsuit 7 mm")
    assert worked_out(row).worst.ours == lead(*MAN, "wetsuit 7 mm", "")
    assert (worked_out(row).worst.low, worked_out(row).worst.high) == pytest.approx((9.5, 10.3))
