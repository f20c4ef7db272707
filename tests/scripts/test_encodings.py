"""Text files are read and written as UTF-8 whatever the system's own code page, here and in the tests."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FILES = sorted(
    p for folder in ("meshes", "scenarios", "sim", "scripts", "tests") for p in (ROOT / folder).rglob("*.py")
)
PLACE = {"read_text": 0, "write_text": 1}  # of the encoding among the arguments


def unstated(source: str) -> list[int]:
    """Lines of ``source`` where a text file is opened, read or written without saying in which encoding."""
    lines: list[int] = []
    if not any(name in source for name in ("open", *PLACE)):
        return lines  # parsing takes long
    for call in ast.walk(ast.parse(source)):
        if not isinstance(call, ast.Call) or any(k.arg == "encoding" for k in call.keywords):
            continue
        name = getattr(call.func, "attr", getattr(call.func, "id", ""))
        owner = getattr(getattr(call.func, "value", None), "id", "")
        modes = [a.value for a in call.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
        opened = name == "open" and owner not in ("os", "Image", "archive", "av") and not any("b" in m for m in modes)
        if opened or (name in PLACE and len(call.args) <= PLACE[name]):
            lines.append(call.lineno)
    return lines


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("p.read_text()", 1),
        ("p.read_text('utf-8')", 0),
        ("p.write_text(x)", 1),
        ("p.write_text(x, encoding='utf-8')", 0),
        ("open(p)", 1),
        ("p.open('w', newline='')", 1),
        ("p.open('rb')", 0),
        ("os.open(p, 0)", 0),
    ],
)
def test_the_search_sees_what_it_should(source, found):
    assert len(unstated(source)) == found


def test_every_text_file_is_read_and_written_as_utf8():
    assert len(FILES) > 400
    assert {
        str(f.relative_to(ROOT)): lines for f in FILES if (lines := unstated(f.read_text(encoding="utf-8")))
    } == {}
