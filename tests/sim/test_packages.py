"""Every package says what it is for and what it stands on."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = [
    file.parent.relative_to(ROOT).as_posix()
    for part in ("meshes", "scenarios", "sim")
    for file in sorted((ROOT / part).rglob("__init__.py"))
    if len(list(file.parent.glob("*.py"))) > 1 and "front" not in file.parts  # others hold data
]


@pytest.mark.parametrize("package", PACKAGES)
def test_its_docstring_says_purpose_and_dependence(package):
    said = ast.get_docstring(ast.parse((ROOT / package / "__init__.py").read_text(encoding="utf-8"))) or ""
    assert said.split("\n")[0].endswith(".")
    assert "epends on" in said
