"""Where people's centre of buoyancy lies and whether they float: small measured samples, stated bands.

McLean & Hinrichs 1998, J Sports Sci 16:373: CB - CM of swimmers, arms overhead: men 0.79 (SD 0.43) cm, 12.6 % fat,
n 15; women 0.16 (0.34) cm, 20.2 % fat, n 16. Breathing level not told.
Maruyama, Konda & Yanai 2012, Jpn J Phys Educ 57:641: ten men, one inhalation adds 1.11 (belly) to 1.21 cm (chest);
CB headward of CM at every lung volume.
Donoghue & Minnigerode 1977, J Forensic Sci 22:573: at FRC 69 % of 98 men float in the sea, 7 % in fresh water; at
TLC all.
"""

import numpy as np
import pytest

from sim.person.density import tissue_density
from sim.person.lungs import ecsc_1993, gli_2021
from sim.person.person import person_of
from sim.person.pose import POSES, symmetric_pose
from sim.person.posed_body import posed_body

OVERHEAD = symmetric_pose(shoulder_flexion=np.pi, ankle_plantarflexion=0.9)
SEA, FRESH = 1025.0, 998.0


def lead(person, pose):
    """How far the CB lies headward of the CM [m]."""
    whole = posed_body(person, pose).whole()
    return whole.cb[0] - whole.cm[0]


@pytest.mark.parametrize(
    ("sex", "stature", "mass", "fat", "mean", "sd"),
    [("male", 1.80, 75.0, 0.126, 0.0079, 0.0043), ("female", 1.68, 60.0, 0.202, 0.0016, 0.0034)],
)
def test_swimmers_with_arms_overhead(sex, stature, mass, fat, mean, sd):
    """Within two SDs of the sample at rest (FRC) and within one and a half breathed out (RV)."""
    rest, out = (
        person_of(sex, stature, mass, body_fat=fat, age=20.0, lung_gas=gas)
        for gas in (gli_2021("FRC", sex, stature, 20.0), gli_2021("RV", sex, stature, 20.0))
    )
    assert lead(rest, OVERHEAD) == pytest.approx(mean, abs=2.0 * sd)
    assert lead(out, OVERHEAD) == pytest.approx(mean, abs=1.5 * sd)


def test_one_inhalation():
    """From FRC to nearly full, 3.3 l: 0.9 to 1.3 cm for men; a whole vital capacity 0.7 to 2.3 cm."""
    for stature, mass in ((1.72, 68.0), (1.80, 78.0)):
        rv, tlc = (ecsc_1993(v, "male", stature, 22.0)[0] for v in ("RV", "TLC"))
        frc = person_of("male", stature, mass, age=22.0).frc
        d = {
            gas: lead(person_of("male", stature, mass, age=22.0, lung_gas=gas), POSES["upright"])
            for gas in (rv, frc, frc + 3.3e-3, tlc)
        }
        assert 0.009 < d[frc + 3.3e-3] - d[frc] < 0.013
        assert 0.007 < d[tlc] - d[rv] < 0.023


def test_an_inhalation_moves_both_centres():
    low, high = (person_of("male", 1.75, 72.0, age=22.0, lung_gas=g) for g in (2.5e-3, 6.0e-3))
    a, b = (posed_body(p, POSES["upright"]).whole() for p in (low, high))
    assert b.cb[0] > a.cb[0]
    assert b.cm[0] < a.cm[0]


def test_cb_lies_headward_of_cm_at_every_lung_volume():
    """Men: always; women, bare and emptied, may just miss it (-0.5 cm accepted)."""
    for sex, stature, mass, least in (("male", 1.75, 75.0, 0.0), ("female", 1.65, 60.0, -0.005)):
        for volume in ("RV", "FRC", "TLC"):
            person = person_of(sex, stature, mass, age=30.0, lung_gas=ecsc_1993(volume, sex, stature, 30.0)[0])
            for pose in (POSES["upright"], OVERHEAD):
                assert lead(person, pose) > least


def test_who_floats():
    """Men built as the Penrose sample (BMI 25.4, 22 to 81 years), densities with their scatter, median lungs.

    Bands from two samples that differ in fatness: at FRC 65 to 90 % in the sea, 5 to 35 % in fresh water; full, all.
    """
    rng = np.random.default_rng(4)
    n = 2000
    stature = np.clip(rng.normal(1.78, 0.067, n), 1.60, 1.95)
    mass = 25.4 * np.exp(0.13 * rng.standard_normal(n)) * stature**2
    age = np.clip(rng.normal(45.0, 12.6, n), 22.0, 70.0)
    men = list(zip(stature, mass, age, strict=True))
    tissue = [tissue_density("male", s, m, a) for s, m, a in men]
    density = np.array([t.density for t in tissue]) + tissue[0].sd * np.clip(rng.standard_normal(n), -2.5, 2.5)

    def floating(volume, water):
        gas = np.array([gli_2021(volume, "male", s, a) for s, _, a in men])
        return float(np.mean(mass / (mass / density + gas) < water))

    assert 0.65 <= floating("FRC", SEA) <= 0.90
    assert 0.05 <= floating("FRC", FRESH) <= 0.35
    assert floating("TLC", FRESH) > 0.995  # all of 98
    assert floating("TLC", SEA) == 1.0


def test_head_in_sea_water():
    """Head and neck of a 75 kg man weigh 0.2 to 0.4 kg in the sea: fraction 0.0694, density 1070 to 1110."""
    head = person_of("male", 1.78, 75.0).segments["head"]
    assert 0.2 < head.mass - SEA * head.volume < 0.4
    assert 1065.0 < head.mass / head.volume < 1110.0


def test_hips_and_thighs_of_women_are_lighter():
    """Limbs in the published order (Clauser et al. 1969): hand > forearm ~ foot > shank > upper arm > thigh."""
    for sex in ("male", "female"):
        person = person_of(sex, 1.70, 68.0)
        density = {n: t.mass / t.volume for n, t in person.segments.items()}
        ranked = [density[f"left {n}"] for n in ("hand", "shank", "upper arm", "thigh")]
        assert ranked == sorted(ranked, reverse=True)
    woman = person_of("female", 1.70, 68.0).segments
    assert woman["left thigh"].mass / woman["left thigh"].volume < 1030.0


def test_lungs_where_the_pressure_centroid_is():
    """Taylor & Morrison 1989, Undersea Biomed Res 16:3: 13.6 cm below the notch, 7.0 cm behind the sternal plane."""
    person = person_of("male", 1.78, 75.0)
    body = posed_body(person_of("male", 1.78, 75.0, lung_gas=person.frc), POSES["upright"])
    assert body.landmarks["notch"][0] - body.lungs.cb[0] == pytest.approx(0.136, abs=1e-12)
    assert body.lungs.cb[2] - body.landmarks["sternum"][2] == pytest.approx(0.070, abs=1e-12)
