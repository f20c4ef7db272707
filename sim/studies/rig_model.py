"""The model behind a study of a scenario or a parts file: each row's settings put in, assembled, and solved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np

from scenarios.checking import checked
from scenarios.errors import ScenarioError
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.settings import Setting, with_settings
from sim.assembly.parts_rig import assembled_parts
from sim.assembly.scenario_rig import Wearer, assembled_scenario, wearer_of
from sim.rig import Rig
from sim.studies.inputs import Input
from sim.studies.job import Answers
from sim.studies.plan import Rows
from sim.studies.rig_answers import many_rigs, rig_answers


@dataclass(frozen=True, eq=False)
class RigModel:
    """Assembles one row after another.

    document : raw tables of the scenario or parts file;  kind : what it is checked against
    folder : where files named in it lie;  columns : the answers wanted
    """

    document: Mapping[str, Any]
    kind: type[Scenario] | type[PartsFile]
    folder: str
    inputs: tuple[Input, ...]
    columns: tuple[str, ...]

    def __call__(self, rows: Rows) -> Answers:
        built = [self._rig(self.row_settings(rows, i)) for i in range(len(rows))]
        good = [i for i, rig in enumerate(built) if isinstance(rig, Rig)]
        values = {column: np.full(len(rows), np.nan) for column in self.columns}
        if good:
            solved = rig_answers(many_rigs([rig for rig in built if isinstance(rig, Rig)]), self.columns)
            for column, answers in solved.items():
                values[column][good] = answers
        return Answers(values, ["" if isinstance(rig, Rig) else rig for rig in built])

    def row_settings(self, rows: Rows, i: int) -> Sequence[Setting]:
        """What row ``i`` of the run changes in the scenario."""
        return [
            setting
            for one in self.inputs
            for setting in one.settings([float(rows.values[c.name][i]) for c in one.columns])
        ]

    def _rig(self, settings: Sequence[Setting]) -> Rig | str:
        """The rig with the settings put in, or why there is none."""
        try:
            told = checked(self.kind, with_settings(self.document, settings), name="row", folder=self.folder)
            if isinstance(told, PartsFile):
                return assembled_parts(told, "").rig
            return assembled_scenario(told, "", wearer=_wearer(_ByPerson(_person_key(told), told))).rig
        except ScenarioError as error:
            return "; ".join(f"{p.key}: {p.message}" for p in error.problems)
        except ValueError as error:
            return str(error)


@dataclass(frozen=True)
class _ByPerson:
    """A scenario, told from others by its person and pose alone."""

    key: str
    scenario: Scenario = field(compare=False)


def _person_key(scenario: Scenario) -> str:
    return scenario.diver.model_dump_json() + scenario.pose.model_dump_json()


@lru_cache(maxsize=16)
def _wearer(person: _ByPerson) -> Wearer:
    """A body takes longer to make than all its gear: the last few are kept."""
    return wearer_of(person.scenario)
