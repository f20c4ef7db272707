"""Every field that is told is described, and every field that is described is told."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.formats import FORMATS
from sim.answers.settle.afloat.answer import REFERENCE, SINKS, HeldAttitude, Lying, RestAfloat, Surface
from sim.answers.settle.answer import Picture
from sim.answers.settle.report import report_of
from sim.answers.settle.told import settle_answer
from sim.answers.settle.uncertain import uncertain_told
from sim.answers.why.answer import why_answer
from sim.case import Case
from sim.telling.made_by import made_by, origin
from sim.telling.record import as_json, fields_of
from sim.telling.written_file import WrittenFile
from sim.uncertainty.uncertain_settle import uncertain_settle

PARTS = """\
format = "parts/1"
water = { density = "1000 kg/m^3", gravity = "10 m/s^2" }
depth = { pressure = "2 bar", held = [0.0, 0.0, 0.0] }
[[part]]
name = "float"
mass = "100 +- 1 kg"
cm = [0.1, 0.0, 0.0]
volume = "100 l"
cb = [0.05, 0.0, 0.0]
"""
UP = np.array([0.0, 0.0, 1.0])
LYING = Lying(UP, 0.0, 0.0, "down", 1.5, 0.1, 0.1, 0.0, 0.1, 5.0, {"legs": 1.0}, {"neck": 0.1})
REST = RestAfloat(("face down",), LYING, True, 3.0)
HELD = HeldAttitude("face down", LYING, 2.0, 0.3, None, 0, True)
AFLOAT = Surface("floats", 0.015, True, None, 110.0, None, (REST,), (HELD,), 0.7, SINKS, REFERENCE, ("a note",))
ELSEWHERE = ("drawn_plate.",)  # the plate's own fields have their own test


def described(name: str) -> set[str]:
    return {f.path for f in fields_of(FORMATS[name]) if not f.path.startswith(ELSEWHERE)}


def paths(told: Any, known: set[str], at: str = "") -> Iterator[str]:
    """Where a value stands, "[]" behind a list of objects, as the pages have it."""
    if isinstance(told, dict):
        named = next((k[len(at) + 1 :] for k in known if k.startswith(f"{at}.<")), None)
        for key, value in told.items():
            yield from paths(value, known, f"{at}.{named or key}" if at else key)
    elif isinstance(told, list) and told and isinstance(told[0], dict):
        for one in told:
            yield from paths(one, known, f"{at}[]")
    elif told is None or not any(k.startswith((f"{at}.", f"{at}[]")) for k in known):
        yield at


@pytest.fixture(scope="module")
def made():
    """A rig with everything that may be told of it, and by what it was made."""
    case = Case.read(demo_path("small-woman-steel"))
    files = [origin(case.content, case.path, plate="another", whole=True, sources=True)]
    return case, made_by(files)


def test_all_that_settle_tells(made, tmp_path):
    case, by = made
    part = tmp_path / "part.toml"
    part.write_text(PARTS, encoding="utf-8")
    spread = uncertain_told(uncertain_settle(Case.read(part), samples=64))
    spread = replace(spread, body_measures_together=spread.unknowns[0])
    report = report_of(case.assembled)
    full = replace(settle_answer(report, AFLOAT, spread), made_by=by, picture=Picture("a.png", "shaded"))
    bare = replace(full, suit=None, settled=None, settled_roll_free=None, uncertain=None)
    known = described("hangflat.settle/1")
    told = {p for answer in (full, bare) for p in paths(as_json(answer), known)}
    assert told | {"uncertain.body_measures_together"} == known


def test_all_that_why_tells(made):
    case, by = made
    known = described("hangflat.why/1")
    answer = replace(why_answer(case), made_by=by, chart=WrittenFile("a.png"))
    assert set(paths(as_json(answer), known)) == known
