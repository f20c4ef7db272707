"""What-ifs: ``--set cylinders.pressure="50 bar"`` changes one value of a file before it is checked."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.quantities import found
from scenarios.toml_file import parse_toml

Path = tuple[str | int, ...]
# Keys that say the same thing in other words: setting one takes the place of the other in the file
SAME_THING: Final[Mapping[Path, Path]] = {
    ("harness", "drop"): ("harness", "shoulder_strap"),
    ("harness", "shoulder_strap"): ("harness", "drop"),
}


@dataclass(frozen=True)
class Setting:
    """One KEY=VALUE: the path in the file's tables, the raw value, and the text as it was given."""

    path: Path
    value: Any
    text: str


def setting_of(text: str) -> Setting:
    """Read one KEY=VALUE. A value that is a number, list, table, true, false or quoted is TOML, any other is text.

    Raises ScenarioError when there is no "=" or no key.
    """
    key, equals, value = text.partition("=")
    steps = [step.strip() for step in key.split(".")]
    if not equals or not all(steps) or len(steps) > 20:
        raise ScenarioError(
            [
                Problem(
                    f"--set {shortened(text)}",
                    'expected KEY=VALUE, like cylinders.pressure="50 bar" or lead.0.mass="2 kg"',
                )
            ]
        )
    return Setting(tuple(int(s) if s.isdecimal() and len(s) < 6 else s for s in steps), _raw(value.strip()), text)


def setting_to(key: str, value: object) -> Setting:
    """The setting that puts ``value`` at a dotted key; a number there is bare, or ``SI`` for a quantity.

    Raises ScenarioError when there is no key.
    """
    path = setting_of(f"{key}=").path
    return Setting(path, value, f"{key}={value}")


def with_settings(document: Mapping[str, Any], settings: Sequence[Setting]) -> dict[str, Any]:
    """A copy of a file's raw tables with the settings applied in order; nothing is checked yet.

    ``plate=small carbon`` takes another catalogue entry in place of the whole table, ``plate.catalogue=small carbon``
    keeps the keys written beside it, ``lead.0.mass=2 kg`` goes into a list (counted from 0; the number after the last
    appends one), ``plate=none`` leaves the plate out. Raises ScenarioError for a path that leads nowhere.
    """
    changed = copy.deepcopy(dict(document))
    given = {setting.path for setting in settings}
    for setting in settings:
        other = SAME_THING.get(setting.path)
        if other is not None and other not in given:
            _without(changed, other)
        _put(changed, replace(setting, value=copy.deepcopy(setting.value)))
    return changed


def setting_behind(settings: Sequence[Setting], path: Path, in_file: Callable[[Path], bool]) -> Setting | None:
    """The setting a problem at ``path`` comes from: the last one at or around it, the first inside it, or one beside
    it where no line of the file has any of it."""
    around = [s for s in reversed(settings) if path and path[: len(s.path)] == s.path]
    inside = [s for s in settings if path and s.path[: len(path)] == path]  # of several, the first says what it is
    if around or inside:
        return (around or inside)[0]
    for setting in reversed(settings):
        if path and setting.path[:1] == path[:1] and not in_file(path[:1]):
            return setting
    return None


def _raw(value: str) -> Any:
    if value[:1] in tuple("[{\"'+-.0123456789") or value in ("true", "false"):
        try:
            read = parse_toml(f"value = {value}", "")
        except ScenarioError:
            return value
        if set(read) == {"value"} and isinstance(read["value"], bool | int | float | str | list | dict):
            return read["value"]
    return value


def _without(root: dict[str, Any], path: Path) -> None:
    """Take a key out of a table, where there is one."""
    table = root.get(str(path[0]))
    if isinstance(table, dict):
        table.pop(path[1], None)


def _put(root: dict[str, Any], setting: Setting) -> None:
    node: Any = root
    for number, step in enumerate(setting.path[:-1]):
        node = _member(node, step, setting, number)
    last = setting.path[-1]
    _check_step(node, last, setting, len(setting.path) - 1)
    if isinstance(node, list) and last == len(node):
        node.append(setting.value)
    else:
        node[last] = setting.value


def _member(node: Any, step: str | int, setting: Setting, number: int) -> Any:
    """The table or list one step further in, made where there is none; a bare catalogue name becomes a table."""
    _check_step(node, step, setting, number)
    following = setting.path[number + 1]
    fresh: Any = [] if isinstance(following, int) else {}
    if isinstance(node, list):
        if step == len(node):
            node.append(fresh)
        inner = node[int(step)]
    else:
        inner = node.setdefault(step, fresh)
    if isinstance(inner, str) and isinstance(following, int) and inner.strip().lower() == "none":
        node[step] = inner = []  # none of them so far
    elif isinstance(inner, str) and isinstance(following, str):
        inner = {"catalogue": inner} if setting.path[0] != "pose" else {"name": inner}
        node[step] = inner
    return inner


def _check_step(node: Any, step: str | int, setting: Setting, number: int) -> None:
    before = ".".join(str(s) for s in setting.path[:number])
    if isinstance(node, list):
        if not isinstance(step, int):
            raise _nowhere(setting, f"'{before}' is a list of {len(node)}; write {before}.0.{step} for the first")
        if step > len(node):
            if not node:
                raise _nowhere(setting, f"'{before}' has no entries yet, so {step} leads nowhere")
            raise _nowhere(setting, f"'{before}' has entries 0 to {len(node) - 1}, so {step} leads nowhere")
    elif not isinstance(node, dict):
        raise _nowhere(setting, f"'{before}' is {found(node)}, there is nothing inside it to set")
    elif isinstance(step, int):
        raise _nowhere(setting, f"'{before}' is a table, not a list; name a key in it instead of {step}")


def _nowhere(setting: Setting, message: str) -> ScenarioError:
    return ScenarioError([Problem(f"--set {shortened(setting.text)}", message)])
