"""From a file on disk to a rig ready for the mechanics."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.parts_file import PartsFile
from scenarios.reading import read_file
from scenarios.settings import setting_behind, setting_of
from scenarios.toml_file import read_toml
from scenarios.toml_lines import key_lines
from sim.assembly.assembled import Assembled
from sim.assembly.parts_rig import assembled_parts
from sim.assembly.scenario_rig import UnbuildableError, Wearer, assembled_scenario, wearer_of


def assembled_from_file(
    path: str | os.PathLike[str], settings: Sequence[str] = (), wearer: Wearer | None = None
) -> Assembled:
    """Read a scenario or parts file, apply ``KEY=VALUE`` settings and assemble it.

    wearer : the file's person in its pose, where it was made already
    Raises ScenarioError for a file that cannot be read, with every problem found.
    """
    loaded = read_file(path, settings)
    name = Path(loaded.name).stem
    if isinstance(loaded.content, PartsFile):
        return assembled_parts(loaded.content, name, loaded.notes)
    try:
        return assembled_scenario(loaded.content, name, loaded.notes, wearer)
    except UnbuildableError as error:
        raise _told(error, path, loaded.name, settings) from error


def wearer_from_file(
    path: str | os.PathLike[str], settings: Sequence[str] = (), like: Wearer | None = None
) -> Wearer | None:
    """The person of a scenario file in its pose, for many rigs; None for a parts file, which has none.

    like : the same person, made already, in another pose
    Raises ScenarioError as ``assembled_from_file`` does.
    """
    loaded = read_file(path, settings)
    if isinstance(loaded.content, PartsFile):
        return None
    try:
        return wearer_of(loaded.content, like)
    except UnbuildableError as error:
        raise _told(error, path, loaded.name, settings) from error


def _told(error: UnbuildableError, path: str | os.PathLike[str], name: str, settings: Sequence[str]) -> ScenarioError:
    """What cannot be built, with the setting or the file, line and key to blame."""
    text = read_toml(path).text
    lines = key_lines(text)
    key: tuple[str | int, ...] = tuple(int(k) if k.isdigit() else k for k in error.key.split("."))
    setting = setting_behind([setting_of(s) for s in settings], key, lambda p: p in lines)
    if setting is not None:
        return ScenarioError([Problem(f"--set {shortened(setting.text)}", str(error), error.key)])
    line = lines.get(key)
    source = text.split("\n")[line - 1] if line else None
    return ScenarioError([Problem(name, str(error), error.key, line, source)])
