"""The worked study runs as it stands, and its numbers are those of the same rigs settled one by one."""

import pytest

from scenarios.demos import demo_path
from sim.answers.settle.report import report_of
from sim.answers.settle.told import settle_answer
from sim.case import Case
from sim.telling.caution import CAUTION


def test_the_worked_study_says_what_settling_says(tmp_path, capsys, script):
    worked_study = script("worked_study")
    told = worked_study.main(tmp_path)
    table = told["table"]
    assert table["harness.drop"].to_list() == pytest.approx([-2.0, -2.0, 1.0, 1.0, 4.0, 4.0])
    assert told["units"]["harness.drop"] == "cm"
    settings = ["harness.drop=4 cm", "suit.gas=5 l"]
    alone = settle_answer(report_of(Case.read(demo_path("small-woman-steel"), settings).assembled))
    # batch and single statics agree to 1e-9; ten times that for the sums of both
    assert table["trimming_moment_nm"][4] == pytest.approx(alone.flat.pitch_moment, rel=1e-8)
    assert told["by_drop"]["trimming_moment_nm"][2] == pytest.approx(table["trimming_moment_nm"][4:].mean())
    assert CAUTION in capsys.readouterr().out
    assert worked_study.main(tmp_path)["table"].equals(table)  # a second time nothing is left to do
