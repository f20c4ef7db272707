"""Read a study file: the scenario it starts from, and its factors with every number read and tried out."""

from __future__ import annotations

import difflib
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from scenarios.checking import checked
from scenarios.errors import LONGEST_PLACE, Problem, ScenarioError, shortened
from scenarios.field_guide import tables_at, tables_in
from scenarios.file_names import place_named
from scenarios.models import Scenario
from scenarios.quantities import Quantity
from scenarios.reading import Loaded, read_file, read_tables, varied
from scenarios.settings import Path as KeyPath
from scenarios.settings import Setting, setting_of
from scenarios.study import OF_A_DIVER, STUDY_FORMAT, Study
from scenarios.study_axes import (
    Axis,
    AxisError,
    ChoiceAxis,
    NumberAxis,
    PeopleAxis,
    choice_axis,
    number_axis,
    people_axis,
    settings_in,
)
from scenarios.table import quantity_of
from scenarios.toml_file import TomlFile, read_toml
from scenarios.toml_lines import key_lines, line_of


@dataclass(frozen=True)
class LoadedStudy:
    """A study file that could be read.

    base : the scenario or parts file that is varied, the study's own ``set`` put in
    axes : the factors, in the order of the file
    correlations : (one, other, correlation of the normal scores) by position among ``axes``
    """

    study: Study
    name: str
    base: Loaded
    axes: tuple[Axis, ...]
    correlations: tuple[tuple[int, int, float], ...]

    @property
    def has_person(self) -> bool:
        """Whether the base is a scenario with a diver, not a parts file."""
        return isinstance(self.base.content, Scenario)


def read_study(path: str | os.PathLike[str]) -> LoadedStudy:
    """Read a study file and the scenario it names. Raises ScenarioError with every problem found."""
    file = read_toml(path)
    if file.data.get("format") != STUDY_FORMAT:
        message = f'this is no study file; a study begins with format = "{STUDY_FORMAT}"'
        raise ScenarioError([_problem(file, message, ("format",))])
    study = checked(Study, file.data, name=file.name, text=file.text)
    base = _base(file, study)
    with _blamed(file, ("set",)):
        base = varied(base, settings_in(study.set))
    axes = tuple(_axis(file, study, i, base) for i in range(len(study.factor)))
    loaded = LoadedStudy(study, file.name, base, axes, _correlations(file, study, axes))
    _check_outputs(file, loaded)
    _check_design(file, loaded)
    return loaded


def _base(file: TomlFile, study: Study) -> Loaded:
    """The scenario to vary."""
    if isinstance(study.base, str):
        place = file.path.parent / place_named(study.base)
        if not os.path.isfile(place):  # unlike Path.is_file, never raises
            named = shortened(str(place), LONGEST_PLACE)
            message = f'there is no file "{named}"; give the path from the folder of the study file'
            raise ScenarioError([_problem(file, message, ("base",))])
        return read_file(place)
    with _blamed(file, ("base",), inside=True):
        return read_tables(study.base, file)


def _axis(file: TomlFile, study: Study, i: int, base: Loaded) -> Axis:
    """One factor, read and tried out on the scenario."""
    factor = study.factor[i]
    try:
        axis: Axis
        if factor.people is not None:
            if _is_calibrated(base.document):
                raise AxisError(
                    'people are other divers, and the base names what was learnt of one: add known = "none" to set'
                )
            axis = people_axis(factor, base.document.get("diver"))
        elif factor.choices is not None:
            axis = choice_axis(factor)
        else:
            axis = number_axis(factor, quantity_at(type(base.content), factor.key or ""))
    except AxisError as error:
        raise ScenarioError([_problem(file, str(error), ("factor", i, *error.below))]) from None
    except ScenarioError as error:
        raise _relocated(error, file, ("factor", i, "key")) from None
    for settings, below in _trials(axis):
        with _blamed(file, ("factor", i, *below)):
            varied(base, settings)
    return axis


def _is_calibrated(document: Mapping[str, Any]) -> bool:
    known = document.get("known")
    return isinstance(known, str) and known.strip().lower() != "none"


def _trials(axis: Axis) -> Iterator[tuple[Sequence[Setting], tuple[str | int, ...]]]:
    """Settings that show whether a factor fits the scenario, and the key to blame if not."""
    if isinstance(axis, NumberAxis):
        for end in axis.ends():
            yield [axis.setting(end)], (axis.way,)
    elif isinstance(axis, ChoiceAxis):
        for j, settings in enumerate(axis.settings):
            yield settings, ("choices", j)


def quantity_at(model: type[Any], key: str) -> Quantity | None:
    """What a key holds; None for bare numbers. Raises AxisError where it leads nowhere or holds no number."""
    path = setting_of(f"{key}=").path
    field = _field_at(model, path)
    if field is None:
        raise AxisError(
            f'"{key}" leads to nothing that can be varied; "hangflat catalogue keys" lists the keys', "key"
        )
    quantity = quantity_of(field)
    numeric = quantity is not None or (isinstance(path[-1], int) and "float" in str(field))
    if not numeric:
        raise AxisError(f'"{key}" holds no number; give its words as choices', "key")
    return quantity


def _field_at(model: type[Any], path: KeyPath) -> Any:
    """The field a key belongs to: its own, or the list or the table of plain names that it is in."""
    for length in (len(path) - 1, len(path) - 2):
        if length >= 0 and isinstance(step := path[length], str):
            for table in tables_at(model, path[:length]):
                field = table.model_fields.get(step)
                if field is not None and (length == len(path) - 1 or not tables_in(field.annotation)):
                    return field
    return None


def _near(model: type[Any], path: KeyPath) -> str:
    known = [key for table in tables_at(model, path[:-1]) for key in table.model_fields]
    near = difflib.get_close_matches(str(path[-1]), known, n=1)
    return f"; did you mean '{near[0]}'?" if near else '; "hangflat catalogue keys" lists the keys'


def _correlations(file: TomlFile, study: Study, axes: Sequence[Axis]) -> tuple[tuple[int, int, float], ...]:
    """Pairs of drawn factors that go together."""
    names = [axis.title for axis in axes]
    keys = [factor.key for factor in study.factor]
    found = []
    for i, correlation in enumerate(study.correlation):
        at = []
        for j, name in enumerate(correlation.between):
            k = names.index(name) if name in names else keys.index(name) if name in keys else None
            axis = None if k is None else axes[k]
            if k is None or not isinstance(axis, NumberAxis) or not _is_drawn(axis):
                able = ", ".join(a.title for a in axes if isinstance(a, NumberAxis) and _is_drawn(a))
                message = f'"{shortened(name)}" is no factor that is drawn from a spread; those are: {able or "none"}'
                raise ScenarioError([_problem(file, message, ("correlation", i, "between", j))])
            at.append(k)
        if at[0] == at[1]:
            raise ScenarioError([_problem(file, "a factor goes together with itself; name two", ("correlation", i))])
        found.append((at[0], at[1], correlation.value))
    _check_positive(file, found, len(axes))
    return tuple(found)


def _check_positive(file: TomlFile, pairs: Sequence[tuple[int, int, float]], count: int) -> None:
    if not pairs:
        return
    import numpy as np

    matrix = np.eye(count)
    for i, j, value in pairs:
        matrix[i, j] = matrix[j, i] = value
    if not np.linalg.eigvalsh(matrix).min() > 1e-9:
        message = "these correlations contradict each other: no quantities can go together so; weaken one"
        raise ScenarioError([_problem(file, message, ("correlation",))])


def _is_drawn(axis: Axis) -> bool:
    """Whether it has no levels of its own that a grid could go through."""
    return isinstance(axis, PeopleAxis) or (isinstance(axis, NumberAxis) and axis.way not in ("values", "range"))


def _check_outputs(file: TomlFile, loaded: LoadedStudy) -> None:
    for i, name in enumerate(loaded.study.outputs):
        if name in OF_A_DIVER and not loaded.has_person:
            message = f'"{name}" is of a diver, and a parts file has none'
            raise ScenarioError([_problem(file, message, ("outputs", i))])


def _check_design(file: TomlFile, loaded: LoadedStudy) -> None:
    """The number of draws must be said where there is one, and be one that the design can have."""
    design, axes = loaded.study.design, loaded.axes
    titles = [a.title for a in axes]
    twice = next((t for i, t in enumerate(titles) if t in titles[:i]), None)
    if twice is not None:
        i = len(titles) - 1 - titles[::-1].index(twice)
        raise ScenarioError([_problem(file, f'two factors are called "{twice}"; name one of them', ("factor", i))])
    many = [i for i, a in enumerate(axes) if isinstance(a, PeopleAxis)]
    if len(many) > 1:
        raise ScenarioError(
            [_problem(file, "people are drawn already; one factor of them will do", ("factor", many[1]))]
        )
    drawn = any(_is_drawn(a) for a in axes)
    needs = design.kind in ("latin hypercube", "sobol", "saltelli") or (design.kind == "grid" and drawn)
    if needs and design.number is None:
        raise ScenarioError([_problem(file, "say how many are drawn, like number = 1024", ("design",))])
    if not needs and design.number is not None:
        message = f'a design "{design.kind}" of such factors draws nothing: leave number out'
        raise ScenarioError([_problem(file, message, ("design", "number"))])
    number = design.number or 1
    if design.kind in ("sobol", "saltelli") and number & (number - 1):
        low = 1 << (number.bit_length() - 1)
        message = f"a Sobol' sequence is balanced for powers of two; take {low} or {2 * low} instead of {number}"
        raise ScenarioError([_problem(file, message, ("design", "number"))])
    if design.kind == "saltelli" and len(axes) < 2:
        raise ScenarioError([_problem(file, "indices compare factors; give two or more", ("factor",))])


@contextmanager
def _blamed(file: TomlFile, key: KeyPath, *, inside: bool = False) -> Iterator[None]:
    """Turn problems of the varied scenario into problems of the study file at ``key`` (or at their own key in it)."""
    try:
        yield
    except ScenarioError as error:
        raise _relocated(error, file, key, inside=inside) from None


def _relocated(error: ScenarioError, file: TomlFile, key: KeyPath, *, inside: bool = False) -> ScenarioError:
    problems = []
    for problem in error.problems:
        own = tuple(int(s) if s.isdecimal() else s for s in problem.key.split(".")) if problem.key else ()
        message = problem.message if inside or not own else f"{problem.key}: {problem.message}"
        problems.append(_problem(file, message, (*key, *own) if inside else key))
    return ScenarioError(problems)


def _problem(file: TomlFile, message: str, key: KeyPath) -> Problem:
    line = line_of(key_lines(file.text), key)
    source = None if line is None else file.text.split("\n")[line - 1]
    return Problem(file.name, message, ".".join(map(str, key)), line, source)
