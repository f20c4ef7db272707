"""Dumas, Cheze & Verriest 2007 (trunk after 2015): segment volumes by stereophotography, uniform density.

Their base (McConville 1980, Young 1983) measured volumes, so their "mass" fractions are an independent check of the
mesh's volume fractions; trunk and thighs together, since the cut between them differs.
"""

import csv
from pathlib import Path

import pytest

from meshes.solid import volume_integrals
from sim.person.person import person_of
from sim.person.tissue import kind_of

TABLE = Path(__file__).parent / "tables" / "dumas_2007.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
# American men and women of the 1960s and 70s measured: near the survey's means
PEOPLE = {"M": ("male", 1.77, 77.0), "F": ("female", 1.61, 64.0)}
# A quarter of a limb: where the armhole and ankle are cut, and a thumb held to the palm; head and core much closer
LIMB, CORE = 0.25, 0.04


def test_table_is_whole():
    assert len(ROWS) == 20


@pytest.mark.parametrize("sex", ["M", "F"])
def test_volume_fractions(sex):
    printed = {r["segment"]: float(r["mass[-]"]) for r in ROWS if r["sex"] == sex}
    person = person_of(*PEOPLE[sex])
    volume = {name: volume_integrals(mesh).volume for name, mesh in person.meshes.items()}
    whole = sum(volume.values())
    limbs = {kind_of(n): v / whole for n, v in volume.items() if n.startswith("left ")}
    for limb in ("upper_arm", "forearm", "hand", "shank", "foot"):
        assert limbs[limb.replace("_", " ")] == pytest.approx(printed[limb], rel=LIMB), limb
    assert volume["head"] / whole == pytest.approx(printed["head"], rel=0.12)
    trunk = sum(volume[f"{part} trunk"] for part in ("lower", "middle", "upper")) / whole
    core = printed["thorax"] + printed["abdomen"] + printed["pelvis"] + 2.0 * printed["thigh"]
    assert trunk + 2.0 * limbs["thigh"] == pytest.approx(core, rel=CORE)
