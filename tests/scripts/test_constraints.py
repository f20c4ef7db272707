import re
import tomllib
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
LINES = [
    line
    for line in (ROOT / "scripts" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
]
PINS = {canonicalize_name(line.partition("==")[0]): line.partition("==")[2] for line in LINES}
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def direct_requirements() -> list[Requirement]:
    wanted = [*PROJECT["project"]["dependencies"], *PROJECT["project"]["optional-dependencies"]["dev"]]
    return [Requirement(text) for text in [*wanted, *PROJECT["build-system"]["requires"]]]


def test_every_line_is_one_exact_version():
    assert all(re.fullmatch(r"[A-Za-z0-9_.\-]+==[0-9][0-9A-Za-z.]*", line) for line in LINES)
    assert len(PINS) == len(LINES)


def test_pins_satisfy_what_the_project_asks_for():
    for wanted in direct_requirements():
        assert wanted.specifier.contains(PINS[canonicalize_name(wanted.name)]), wanted


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
