import platform as os_platform
import re
import sys
import tomllib
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "scripts" / "constraints.txt").read_text(encoding="utf-8")
LINES = [Requirement(line) for line in TEXT.splitlines() if not line.startswith("#")]
COMPUTERS = [  # platform, processor
    ("linux", "x86_64"),
    ("linux", "aarch64"),
    ("win32", "AMD64"),
    ("darwin", "arm64"),
    ("darwin", "x86_64"),
]


def pins(platform: str = sys.platform, machine: str = os_platform.machine()) -> dict[str, str]:
    """Versions by name on one kind of computer."""
    here = {"sys_platform": platform, "platform_machine": machine}
    chosen = [line for line in LINES if line.marker is None or line.marker.evaluate(here)]
    found = {str(canonicalize_name(line.name)): str(line.specifier).removeprefix("==") for line in chosen}
    assert len(found) == len(chosen), "one name is pinned twice"
    return found


PINS = pins()
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def direct_requirements() -> list[Requirement]:
    wanted = [*PROJECT["project"]["dependencies"], *PROJECT["project"]["optional-dependencies"]["dev"]]
    return [Requirement(text) for text in [*wanted, *PROJECT["build-system"]["requires"]]]


def test_every_line_is_one_exact_version():
    assert all(re.fullmatch(r"==[0-9][0-9A-Za-z.]*", str(line.specifier)) and not line.url for line in LINES)


@pytest.mark.parametrize(("platform", "machine"), COMPUTERS)
def test_every_computer_has_the_same_packages_pinned(platform, machine):
    assert set(pins(platform, machine)) == {canonicalize_name(line.name) for line in LINES}


@pytest.mark.parametrize(("platform", "machine"), COMPUTERS)
def test_compiler_and_numpy_go_together(platform, machine):
    """numba names the newest numpy it knows; the last one built for Macs with Intel processors knows 2.3."""
    version = pins(platform, machine)
    old = (platform, machine) == ("darwin", "x86_64")
    assert Version(version["numba"]) < Version("0.63") if old else Version(version["numba"]) >= Version("0.63")
    assert (Version(version["numpy"]) < Version("2.4")) == old
    assert version["numpy-typing-compat"].endswith(".".join(version["numpy"].split(".")[:2]))


@pytest.mark.parametrize(("platform", "machine"), COMPUTERS)
def test_pins_satisfy_what_the_project_asks_for(platform, machine):
    version = pins(platform, machine)
    for wanted in direct_requirements():
        assert wanted.specifier.contains(version[canonicalize_name(wanted.name)]), wanted


def test_everything_that_those_need_is_pinned_too():
    """Walks the installed packages; a marker for another platform or Python counts as needed as well."""
    waiting = [(r.name, frozenset(r.extras)) for r in direct_requirements()]
    seen: set[tuple[str, frozenset[str]]] = set()
    while waiting:
        name, extras = waiting.pop()
        if (name, extras) in seen:
            continue
        seen.add((name, extras))
        assert canonicalize_name(name) in PINS, name
        try:
            needs = metadata.requires(name) or []
        except metadata.PackageNotFoundError:
            continue  # a package of another platform: pinned, but not here to be asked
        for need in map(Requirement, needs):
            environments = [
                {"extra": extra, "sys_platform": platform, "python_version": "3.12", "python_full_version": "3.12.0"}
                for extra in (*extras, "")
                for platform in ("linux", "darwin", "win32")
            ]
            if need.marker is None or any(need.marker.evaluate(e) for e in environments):
                waiting.append((need.name, frozenset(need.extras)))
    assert len(seen) > len(direct_requirements())
