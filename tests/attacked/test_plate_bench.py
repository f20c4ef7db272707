"""Drawings and tables of people from the attacks, on the plate's bench: one message and exit code 2, or an answer."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.commands.main import main

CORPUS = sorted((Path(__file__).parent / "drawings").glob("*.*"))
PLATE = '<path fill="none" stroke="black" d="M 0 0 H 250 V 380 H 0 Z"/>'
CORNERS = " ".join(
    f"{125 + (120 + 3 * (i % 2)) * math.cos(math.tau * i / 5000):.4f},"
    f"{190 + (180 + 3 * (i % 2)) * math.sin(math.tau * i / 5000):.4f}"
    for i in range(5000)
)
DRAWINGS = {
    "nothing": "",
    "a line": '<path fill="none" stroke="black" d="M 0 0 H 250"/>',
    "no width": '<path fill="none" stroke="black" d="M 0 0 H 250 Z"/>',
    "a slot out of the plate": PLATE + '<path d="M 240 10 H 260 V 20 H 240 Z"/>',
    "openings over one another": PLATE + '<circle cx="125" cy="60" r="5"/><circle cx="128" cy="60" r="5"/>',
    "openings within openings": PLATE + '<circle cx="125" cy="60" r="9"/><circle cx="125" cy="60" r="3"/>',
    "5000 corners": f'<polygon points="{CORNERS}"/>',
    "a crossing outline": '<path d="M 0 0 L 250 380 L 250 0 L 0 380 Z"/>',
}
TABLES = {
    "no rows": "sex,height [cm],mass [kg]\n",
    "no columns": "\n",
    "nan": "sex,height [cm],mass [kg]\nfemale,nan,58\n",
    "400 digits": f"sex,height [cm],mass [kg]\nfemale,{'1' * 400},58\n",
    "ragged": "sex,height [cm],mass [kg]\nfemale,166,58,9,9\n",
    "twice the column": "sex,height [cm],height [cm],mass [kg]\nfemale,166,166,58\n",
    "no text": "sex,height [cm],mass [kg]\nfem\0ale,166,58\n",
}


def refused(words: list[str], capsys: pytest.CaptureFixture[str], folder: Path) -> None:
    """In one message, quickly read, and nothing left behind."""
    there = sorted(folder.iterdir())
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert 0 < len(err) < 2_000
    assert "Traceback" not in err
    assert sorted(folder.iterdir()) == there


@pytest.mark.parametrize("name", sorted(DRAWINGS))
def test_a_broken_drawing_on_the_bench(name, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="250mm" height="380mm" viewBox="0 0 250 380">'
    (tmp_path / "plate.svg").write_text(f"{head}{DRAWINGS[name]}</svg>", encoding="utf-8")
    export = ["--export", "bent.stl", "--export", "flat.dxf"] if name != "5000 corners" else []
    words = ["plate", "plate.svg", "--thickness", "3 mm", "--material", "stainless steel 316L", *export]
    ended = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    if ended == 0:
        assert out.startswith("plate")
    else:
        refused(words, capsys, tmp_path)


@pytest.mark.parametrize("file", CORPUS, ids=lambda f: f.name)
def test_the_corpus_on_the_bench(file, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    refused(["plate", str(file), "--unit", "mm", "--material", "stainless steel 316L"], capsys, tmp_path)


@pytest.mark.parametrize("name", sorted(TABLES))
def test_a_broken_table_of_people_on_the_bench(name, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "people.csv").write_text(TABLES[name], encoding="utf-8")
    refused(["plate", "small steel", "--csv", "people.csv", "--table", "out.csv"], capsys, tmp_path)
