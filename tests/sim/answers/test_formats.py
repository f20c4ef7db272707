"""The formats of ``--json`` are contracts: a field that was told once stays under its name."""

from pathlib import Path

import pytest

from sim.answers.formats import FORMATS
from sim.telling.record import fields_of

TOLD = {"/".join(p.stem.rsplit("-", 1)): p for p in (Path(__file__).parent / "formats").glob("*.txt")}


@pytest.mark.parametrize("name", sorted(TOLD))
def test_no_field_is_renamed_or_removed_under_its_format_number(name: str) -> None:
    told = TOLD[name].read_text(encoding="utf-8").split()
    assert len(told) > 10
    assert set(told) <= {field.path for field in fields_of(FORMATS[name])}


@pytest.mark.parametrize("name", sorted(FORMATS))
def test_every_format_says_its_own_name_and_no_field_twice(name: str) -> None:
    first, *_ = fields_of(FORMATS[name])
    assert (first.path, FORMATS[name].__dataclass_fields__["format"].default) == ("format", name)  # type: ignore[attr-defined]
    paths = [field.path for field in fields_of(FORMATS[name])]
    assert len(paths) == len(set(paths))
