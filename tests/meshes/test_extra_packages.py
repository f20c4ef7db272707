"""What is missing is installed into the Python that runs, by a command that can be typed there."""

import shlex
import subprocess
import sys

import pytest

from meshes import extra_packages
from meshes.extra_packages import FOLDER, how_to_get


@pytest.fixture
def with_pip(monkeypatch):
    monkeypatch.setattr(extra_packages, "find_spec", lambda name: name)


def test_it_names_an_interpreter_that_is_this_one(with_pip):
    """Run as typed in hangflat's folder, it has the same prefix."""
    words = shlex.split(how_to_get("hold").split("with: ")[1])
    told = subprocess.run(
        [words[0], "-c", "import sys; print(sys.prefix)"], cwd=FOLDER, capture_output=True, text=True
    )
    assert told.stdout.strip() == sys.prefix
    assert words[1:6] == ["-m", "pip", "install", "-e", ".[hold]"]


@pytest.mark.parametrize(
    ("windows", "said"),
    [(False, ".venv/bin/python -m pip install -e"), (True, r".venv\Scripts\python -m pip install -e")],
)
def test_in_the_projects_own_environment_it_is_short(with_pip, monkeypatch, windows, said):
    monkeypatch.setattr(extra_packages, "WINDOWS", windows)
    monkeypatch.setattr(sys, "prefix", str(FOLDER / ".venv"))
    assert f"with: {said}" in how_to_get("film")


@pytest.mark.parametrize(("windows", "quoted"), [(False, "'/a b/python'"), (True, '"/a b/python"')])
def test_elsewhere_it_is_the_whole_path_as_it_is_typed(with_pip, monkeypatch, windows, quoted):
    monkeypatch.setattr(extra_packages, "WINDOWS", windows)
    monkeypatch.setattr(sys, "prefix", "/a b")
    monkeypatch.setattr(sys, "executable", "/a b/python")
    assert f"with: {quoted} -m pip install" in how_to_get("film")


def test_without_pip_uv_is_told_where(monkeypatch):
    monkeypatch.setattr(extra_packages, "find_spec", lambda name: None)
    monkeypatch.setattr(sys, "prefix", str(FOLDER / ".venv"))
    assert "with: uv pip install --python .venv/bin/python -e" in how_to_get("film").replace("\\", "/")
