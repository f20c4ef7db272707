"""What was learnt, written as the file that a scenario names."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import metadata
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import stated_value
from scenarios.known import KNOWN_FORMAT, Owner, rig_mark, suit_mark
from scenarios.toml_text import quoted
from scenarios.units import exact_text
from sim.answers.calibrate.calibrate import Calibration
from sim.answers.calibrate.learnt import learnt_lines
from sim.uncertainty.belief import values_at
from sim.uncertainty.sampling import of_scores

SDS: Final = 1e-3  # least SD that is written, in SDs of what was believed before
HEAD: Final = """\
# What measurements have taught of one diver: written by hangflat calibrate, for one line at the top of a
# scenario beside it, known = "THIS-FILE". mean and sd are in SDs of what was believed before, values
# are SI (kg, m, m^3, Pa). Another rig on this diver keeps what is the diver's and the suit's.\
"""


def known_text(answer: Calibration) -> str:
    """The TOML text. Raises ValueError where nothing was fitted."""
    if answer.found is None:
        raise ValueError("the measurements contradict the model: nothing was fitted")
    scenario, found = answer.scenario.as_told(), answer.found
    fat = scenario.diver.body_fat
    sd = np.maximum(np.sqrt(np.diag(found.covariance)), SDS)
    correlation = found.covariance / sd[:, None] / sd
    lines = [
        HEAD,
        f'format = "{KNOWN_FORMAT}"',
        f"version = {quoted(metadata.version('hangflat'))}",
        f"scenario = {quoted(Path(answer.path).name)}",
        f"measurements = {quoted(Path(answer.bench.name).name)}",
        *([] if answer.day is None else [f"measured_on = {answer.day.isoformat()}"]),
        f"suit_kind = {quoted('none' if scenario.suit is None else scenario.suit.kind)}",
        f"suit_mark = {quoted(suit_mark(scenario))}",
        f"rig_mark = {quoted(rig_mark(scenario))}",
        "correlation = [",
        *(f"    [{', '.join(f'{r:.4f}' for r in row)}]," for row in correlation),
        "]",
        "",
        "[diver]",
        f"sex = {quoted(scenario.diver.sex)}",
        f"height = {quoted(exact_text('length', scenario.diver.height))}",
        f"mass = {quoted(exact_text('mass', scenario.diver.mass))}",
        *([] if fat is None else [f"body_fat = {quoted(exact_text('fraction', fat))}"]),
        *_unknowns(answer, sd),
        "",
        "[values]",
        *_values(answer),
    ]
    return "\n".join(lines) + "\n"


def _unknowns(answer: Calibration, sd: Floats) -> Iterator[str]:
    assert answer.found is not None
    values = of_scores(answer.found.mean[None], answer.model.shapes)[0]
    said = {line.name: line for line in learnt_lines(answer)}
    for variate, mean, own, value in zip(answer.unknown.variates, answer.found.mean, sd, values, strict=True):
        yield ""
        yield "[[unknown]]"
        yield f"name = {quoted(variate.name)}"
        yield f"owner = {quoted(variate.owner)}"
        yield f"mean = {mean:.4f}"
        yield f"sd = {own:.4f}"
        keys = [k for k, s in variate.said.items() if s.per_spread != 0.0]
        if len(keys) == 1:
            yield f"keys = [{quoted(keys[0])}]"
        line = said.get(variate.name)
        if line is not None and line.now:
            yield f"before = {quoted(line.before)}"
            yield f"now = {quoted(line.now)}"
        if variate.effect is not None:
            effect = variate.effect.times(float(value))
            of = "" if not effect.of else f"of = {quoted(effect.of)}, "
            yield f"effect = {{ what = {quoted(effect.what)}, {of}amount = {effect.amount:.6g} }}"


def _values(answer: Calibration) -> Iterator[str]:
    """Each value at the middle of what is believed."""
    assert answer.found is not None
    variates = answer.unknown.variates
    now = values_at(variates, of_scores(answer.found.mean[None], answer.model.shapes)[0])
    owners: dict[str, Owner] = {key: v.owner for v in variates for key, s in v.said.items() if s.per_spread != 0.0}
    before = values_at(variates, np.zeros(len(variates)))
    told = answer.scenario.as_told()
    for key, value in sorted(now.items()):
        then = stated_value(told, key)
        was = "" if then is None else f", told = {then:.10g}"
        owner = quoted(owners.get(key, "diver"))
        yield f"{quoted(key)} = {{ now = {value:.10g}, before = {before[key]:.10g}{was}, owner = {owner} }}"
