"""Taylor & Morrison 1989, Undersea Biomed Res 16:3: where the pressure on the lungs balances (abstract).

1.33 kPa below the sternal notch upright (17 people), 0.69 kPa behind the sternal plane prone (13): 13.6 and 7.0 cm.
"""

import pytest

from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body


def test_lungs_at_rest_are_put_where_pressures_balance():
    person = person_of("male", 1.78, 75.0)
    body = posed_body(person_of("male", 1.78, 75.0, lung_gas=person.frc), POSES["upright"])
    assert body.landmarks["notch"][0] - body.lungs.cb[0] == pytest.approx(0.136, abs=1e-12)
    assert body.lungs.cb[2] - body.landmarks["sternum"][2] == pytest.approx(0.070, abs=1e-12)


def test_what_hangs_on_it():
    """A centimetre of the lungs' place is half a millimetre of the CB and a third of a newton metre, for 75 kg."""
    person = person_of("male", 1.78, 75.0)
    share = person.frc / person.volume
    assert share == pytest.approx(0.045, abs=0.002)
    assert 75.0 * 9.81 * 0.01 * share == pytest.approx(0.33, abs=0.02)
