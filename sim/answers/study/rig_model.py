"""The model behind a study of a scenario or a parts file: each row's settings put in, assembled, and solved.

What assembles is imported where rows are worked out: whoever hands them out never needs it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

import numpy as np

from scenarios.diver import Diver
from scenarios.errors import ScenarioError
from scenarios.parts_file import PartsFile
from scenarios.reading import Loaded, varied
from scenarios.settings import Setting
from sim.answers.study.inputs import Input
from sim.answers.study.job import Answers
from sim.answers.study.outputs import FIT_COLUMNS
from sim.answers.study.plan import Rows
from sim.answers.study.rig_answers import many_rigs, rig_answers
from sim.rig import Rig

if TYPE_CHECKING:
    from scenarios.models import Scenario
    from sim.answers.study.fit_answers import FitAnswers
    from sim.assembly.posed_diver import KeptDivers, PosedDiver


@dataclass(frozen=True, eq=False)
class RigModel:
    """Assembles one row after another.

    base : the scenario or parts file that is varied;  columns : the answers wanted
    """

    base: Loaded
    inputs: tuple[Input, ...]
    columns: tuple[str, ...]

    def __call__(self, rows: Rows) -> Answers:
        built = [self._row(self.row_settings(rows, i)) for i in range(len(rows))]
        values = {column: np.full(len(rows), np.nan) for column in self.columns}
        rigs = {i: row.rig for i, row in enumerate(built) if isinstance(row, _Row) and row.rig is not None}
        if rigs:
            solved = rig_answers(many_rigs(list(rigs.values())), self._of_rig)
            for column, answers in solved.items():
                values[column][list(rigs)] = answers
        fits = {i: row.fit for i, row in enumerate(built) if isinstance(row, _Row) and row.fit is not None}
        for column in set(self.columns) & set(FIT_COLUMNS):
            values[column][list(fits)] = [_FIT[column](fit) for fit in fits.values()]
        return Answers(values, [row if isinstance(row, str) else "" for row in built])

    @property
    def _of_rig(self) -> list[str]:
        """Those answers that need a rig; the others are of how it fits."""
        return [c for c in self.columns if c not in FIT_COLUMNS]

    def row_settings(self, rows: Rows, i: int) -> Sequence[Setting]:
        """What row ``i`` of the run changes in the scenario."""
        return [
            setting
            for one in self.inputs
            for setting in one.settings([float(rows.values[c.name][i]) for c in one.columns])
        ]

    def _row(self, settings: Sequence[Setting]) -> _Row | str:
        """What is needed of a row with the settings put in, or why there is none."""
        from sim.assembly.parts_rig import assembled_parts
        from sim.assembly.scenario_rig import scenario_rig

        try:
            told = varied(self.base, settings).content
            if isinstance(told, PartsFile):
                return _Row(assembled_parts(told, "").rig, None)
            wearer = _people().of(told)
            rig = scenario_rig(told, wearer) if self._of_rig else None
            return _Row(rig, self._fit(told, wearer))
        except ScenarioError as error:
            return "; ".join(f"{p.key}: {p.message}" for p in error.problems)
        except ValueError as error:
            return str(error)

    def _fit(self, told: Scenario, wearer: PosedDiver) -> FitAnswers | None:
        """How a row fits, where that is asked for. Raises ValueError as ``fit_answers`` does."""
        if len(self._of_rig) == len(self.columns):
            return None
        from sim.answers.study.fit_answers import fit_answers

        return fit_answers(told, wearer, self._diver)

    @property
    def _diver(self) -> Diver:
        """The diver of the scenario as it is. Raises ValueError for a parts file."""
        if isinstance(self.base.content, PartsFile):
            raise ValueError("a parts file has no diver")
        return self.base.content.diver


@dataclass(frozen=True, eq=False)
class _Row:
    """One row assembled: its rig and how it fits, each if that is needed."""

    rig: Rig | None
    fit: FitAnswers | None


# columns have their own units
_FIT: Final[Mapping[str, Callable[[FitAnswers], float]]] = {
    "plate_suits": lambda fit: float(fit.plate_suits),
    "look_ahead_margin_deg": lambda fit: float(np.degrees(fit.look_ahead)),
    "reach_margin_cm": lambda fit: 100.0 * fit.reach,
    "shoulder_strap_margin_cm": lambda fit: 100.0 * fit.shoulder_straps,
}


@cache
def _people() -> KeptDivers:
    """Of this process, whatever the rows."""
    from sim.assembly.posed_diver import KeptDivers

    return KeptDivers()
