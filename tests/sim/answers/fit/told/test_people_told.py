"""For whom a plate passes, as people and programs read it, and what is refused."""

import csv
import json
from pathlib import Path

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

FILE = str(demo_path("small-woman-steel"))
TWO = ("--plate", "standard steel", "--plate", "small steel")


def test_counts_table_and_map_agree(capsys, tmp_path):
    table, sheet = tmp_path / "people.csv", tmp_path / "people.png"
    assert main(["fit", FILE, "--json", "--people", "2", *TWO, "--table", str(table), "--map", str(sheet)]) == 0
    told = json.loads(capsys.readouterr().out)["people"]
    rows = list(csv.DictReader(table.read_text(encoding="utf-8").splitlines()))
    assert len(rows) == 2 * 2 * 2
    for plate in told["plates"]:
        for sex in ("female", "male"):
            group = plate[sex]
            mine = [r for r in rows if r["plate"] == plate["plate"] and r["sex"] == sex]
            assert group["people"] == len(mine) == 2
            assert group["pass"] == sum(r["passes"] == "1" for r in mine)
            assert group["pass_at_waist"] == sum(r["passes_at_waist"] == "1" for r in mine)
            assert group["pass"] + sum(group["fail"].values()) == 2
            moved = sum(r["cylinders_moved_up_to_pass_cm"] != "" for r in mine)
            assert group["pass"] <= group["pass_with_bands_set"] == moved
            low, high = group["pass_share_band_90"]
            assert low <= group["pass_share"] <= high
    for row in rows:
        assert (row["passes"] == "1") == (row["reason"] == "") == (row["least_drop_cm"] != "")
    assert sheet.read_bytes()[:4] == b"\x89PNG"


def test_text_says_who_passes_and_why_not(capsys):
    assert main(["fit", FILE, "--people", "1"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "women: " in text
    assert "of 1 pass" in text
    assert "ANSUR II" in text


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--people", "many"], "a whole number of 1 to 100000, like 200; got 'many'"),
        (["--people", "0"], "got '0'"),
        (["--people", "-3"], "got '-3'"),
        (["--people", "2.5"], "got '2.5'"),
        (["--people", "2", "--map", "x.jpg"], "give a name that ends in .png"),
        (["--people", "2", "--map", "no-such-folder/x.png"], "there is no folder"),
        (["--map", "x.png"], "give --people 200 with it"),
        (["--table", "x.csv"], "--people 200"),
        (["--people", "2", "--table", "a.csv", "--sweep", "drop"], "one after the other"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_written(capsys, tmp_path, monkeypatch, more, told):
    monkeypatch.chdir(tmp_path)
    assert main(["fit", FILE, *more]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_failure_on_the_way_leaves_the_old_files(tmp_path: Path, monkeypatch, capsys):
    sheet = tmp_path / "people.png"
    sheet.write_bytes(b"old")

    def broken(*_: object) -> None:
        raise RuntimeError("no ink")

    monkeypatch.setattr("sim.answers.fit.drawn.people_map.draw_people_map", broken)
    assert main(["fit", FILE, "--people", "1", "--map", str(sheet)]) == 1
    assert "no ink" in capsys.readouterr().err
    assert sheet.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [sheet]
