"""A woman of 31 years measured segment by segment: Hatze 1980, J Biomech 13:833 (transcribed in public software)."""

import csv
from pathlib import Path

import pytest

from sim.person.person import person_of

TABLE = Path(__file__).parent / "tables" / "hatze_1980_woman.csv"
ROWS = {r["segment"]: r for r in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())}


def test_table_is_whole_and_adds_up():
    assert len(ROWS) == 17
    assert sum(float(r["m"]) for r in ROWS.values()) == pytest.approx(64.63, abs=0.01)
    assert sum(float(r["V"]) for r in ROWS.values()) == pytest.approx(63.58, abs=0.01)
    for r in ROWS.values():
        assert float(r["m"]) / float(r["V"]) == pytest.approx(float(r["rho"]), abs=1.5e-3)  # three decimals of litres


def test_limb_volumes_of_such_a_woman():
    """Her stature is not told; limb volumes of a woman of her mass are within a fifth of hers."""
    person = person_of("female", 1.66, 64.6, age=31.0)
    for limb, there in (("upper arm", "upper_arm"), ("forearm", "forearm"), ("hand", "hand"), ("shank", "shank")):
        hers = 0.5 * sum(float(ROWS[f"{side}_{there}"]["V"]) for side in ("left", "right"))
        assert 1e3 * person.segments[f"left {limb}"].volume == pytest.approx(hers, rel=0.2), limb
    head = float(ROWS["head_neck"]["V"])
    assert 1e3 * person.segments["head"].volume == pytest.approx(head, rel=0.15)
