"""How far the work is, as told to whoever watches."""

import numpy as np
import pytest

from sim.uncertainty.outcomes import outcomes
from sim.uncertainty.progress import part_of
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.variates import UncertainRig, Variate


def test_draws_tell_how_many_are_done_and_do_not_hang_on_the_pieces(make_rig):
    rig = make_rig(1)
    base = numbers_of(rig)
    unknown = UncertainRig(rig, base, (Variate("mass", "", "normal", 0.01 * base),))
    z = np.linspace(-1.0, 1.0, 10)[:, None]
    heard = []
    in_pieces = outcomes(unknown, z, workers=3, done=part_of(heard.append, 0.5, 1.0))
    assert heard == pytest.approx(np.linspace(0.5, 1.0, 13)[1:])
    assert np.array_equal(in_pieces.moment, outcomes(unknown, z).moment)
