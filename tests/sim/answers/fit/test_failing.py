"""What fails, told by itself, is what the answers on fit say."""

import pytest

from scenarios.demos import demo_path
from sim.answers.fit.answer import failing, fit_answer
from sim.case import Case

CHANGED = {
    "small-woman-steel": ("harness.drop=60 mm", "cylinders.shift=-50 mm"),  # too low for the waist and for the hands
    "tall-man-carbon": ("harness.drop=-40 mm", "cylinders.shift=50 mm", "fit.neck_bulk=40 deg"),
    "single-wetsuit": ("fit.shoulder_bulk=60 deg",),
}


@pytest.mark.parametrize("demo", CHANGED)
def test_failing_is_what_the_verdicts_say(demo):
    for settings in ((), CHANGED[demo]):
        assembled = Case.read(demo_path(demo), settings).assembled
        told = tuple(v.subject for v in fit_answer(assembled).verdicts if v.passes is False)
        assert failing(assembled) == told
    assert told  # the changed rig fails somewhere
