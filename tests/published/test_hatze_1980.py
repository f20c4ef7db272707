"""A woman of 31 years measured segment by segment: Hatze 1980, J Biomech 13:833 (transcribed in public software)."""

import csv
from pathlib import Path

import pytest

from sim.person.person import person_of

TABLE = Path(__file__).parent / "tables" / "hatze_1980_woman.csv"
ROWS = {r["segment"]: r for r in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())}


def test_table_is_whole_and_adds_up():
    assert len(ROWS) == 17
    assert sum(float(r["m[kg]"]) for r in ROWS.values()) == pytest.approx(64.63, abs=0.01)
    assert sum(float(r["V[l]"]) for r in ROWS.values()) == pytest.approx(63.58, abs=0.01)
    for r in ROWS.values():
        assert float(r["m[kg]"]) / float(r["V[l]"]) == pytest.approx(
            float(r["rho[kg/l]"]), abs=1.5e-3
        )  # three decimals of litres


def test_density_of_such_a_woman():
    """1.0164 kg/l, lungs and all; 2.9 % is two SDs of what is not known of her: tissue and breath."""
    hers = sum(float(r["m[kg]"]) for r in ROWS.values()) / sum(float(r["V[l]"]) for r in ROWS.values())
    assert hers == pytest.approx(1.0164, abs=1e-4)
    person = person_of("female", 1.66, 64.6, age=31.0)
    assert person.mass / person.volume == pytest.approx(1e3 * hers, abs=29.0)


def test_limb_volumes_of_such_a_woman():
    """Her stature is not told; limb volumes of a woman of her mass are within a fifth of hers."""
    person = person_of("female", 1.66, 64.6, age=31.0)
    for limb, there in (("upper arm", "upper_arm"), ("forearm", "forearm"), ("hand", "hand"), ("shank", "shank")):
        hers = 0.5 * sum(float(ROWS[f"{side}_{there}"]["V[l]"]) for side in ("left", "right"))
        assert 1e3 * person.segments[f"left {limb}"].volume == pytest.approx(hers, rel=0.2), limb
    head = float(ROWS["head_neck"]["V[l]"])
    assert 1e3 * person.segments["head"].volume == pytest.approx(head, rel=0.15)
