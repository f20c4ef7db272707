"""A case: a scenario or parts file as read, with what-ifs; person and rig are worked out once, when asked for.

``vary`` gives another case and leaves this one as it is. Cases that came of one another share their people: a person,
and a person in a pose, is built once for all cases that say the same of them, whatever the gear.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, Final, Self

from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.reading import Loaded, read_file, varied, with_tables_of
from scenarios.settings import Setting, setting_behind, setting_of, setting_to
from scenarios.toml_lines import key_lines
from sim.assembly.assembled import Assembled, Worn
from sim.assembly.parts_rig import assembled_parts
from sim.assembly.posed_diver import KeptDivers, PosedDiver
from sim.assembly.scenario_rig import assembled_scenario
from sim.assembly.unbuildable import UnbuildableError
from sim.rig import Rig

Changes = Mapping[str, Any] | Iterable[str | Setting]
NO_DIVER: Final = "this is a parts file; a scenario file with a [diver] is needed here"


@dataclass(frozen=True, eq=False)
class Case:
    """A diver as told by a file and what-ifs on it; make one by ``Case.read``.

    told : what was read and understood;  people : shared with the cases that this one came from
    """

    told: Loaded
    people: KeptDivers = field(default_factory=KeptDivers, repr=False)

    @classmethod
    def read(cls, path: str | os.PathLike[str], settings: Iterable[str] = ()) -> Self:
        """A scenario or parts file with ``KEY=VALUE`` settings. Raises ScenarioError with every problem found."""
        return cls(read_file(path, tuple(settings)))

    def vary(self, changes: Changes) -> Self:
        """This case with values put in place of what it says; no file is read and no person built again.

        changes : by key, as {"plate": "small carbon", "cylinders.pressure": "50 bar", "lead.0.mass": "2 kg"}, or
            KEY=VALUE texts; a value carries its unit, "none" leaves out what may be left out
        Raises ScenarioError, naming the change, for what cannot be.
        """
        if isinstance(changes, Mapping):
            settings = [setting_to(key, value) for key, value in changes.items()]
        else:
            settings = [one if isinstance(one, Setting) else setting_of(one) for one in changes]
        return type(self)(varied(self.told, settings), self.people) if settings else self

    def taking(self, other: Case, tables: Collection[str]) -> Self:
        """This case with ``tables`` (keys at the top, "cylinders") as another case has them, or without as it is.

        Raises ScenarioError for what cannot be, such as a wing without a plate.
        """
        return type(self)(with_tables_of(self.told, other.told, tables), self.people)

    @property
    def path(self) -> Path:
        """Of the file, as given."""
        return self.told.file.path

    @property
    def content(self) -> Scenario | PartsFile:
        """What the file was understood to say, what-ifs included; SI."""
        return self.told.content

    def scenario(self, otherwise: str) -> Scenario:
        """The content of a scenario file. Raises ScenarioError that says ``otherwise`` for a parts file."""
        if isinstance(self.content, PartsFile):
            raise ScenarioError([Problem(str(self.path), otherwise)])
        return self.content

    @cached_property
    def wearer(self) -> PosedDiver | None:
        """The person in the pose told; None for a parts file. Raises ScenarioError for a body that cannot be."""
        if isinstance(self.content, PartsFile):
            return None
        try:
            return self.people.of(self.content)
        except UnbuildableError as error:
            raise self._blamed(error) from error

    @cached_property
    def assembled(self) -> Assembled:
        """Rig, looks, what was estimated and what is to be noted. Raises ScenarioError for what cannot be built."""
        return self.assembled_on(self.wearer)

    def assembled_on(self, wearer: PosedDiver | None) -> Assembled:
        """As ``assembled``, on another body, such as the same person in a pose that no file tells."""
        name = Path(self.told.name).stem
        if isinstance(self.content, PartsFile):
            return assembled_parts(self.content, name, self.told.notes)
        try:
            return assembled_scenario(self.content, name, self.told.notes, wearer)
        except UnbuildableError as error:
            raise self._blamed(error) from error

    @property
    def rig(self) -> Rig:
        """What the mechanics works on."""
        return self.assembled.rig

    @property
    def worn(self) -> Worn | None:
        """What the answers on fit need; None for a parts file and without a plate."""
        return self.assembled.worn

    def as_parts(self) -> str:
        """The rig as numbers: the text of a parts file that has the same statics, and no person."""
        from scenarios.understood import understood_text
        from sim.assembly.rig_as_parts import rig_as_parts

        parts = rig_as_parts(self.rig, self.assembled.title, self.told.name)
        return understood_text(parts, self.path.parent)

    def _blamed(self, error: UnbuildableError) -> ScenarioError:
        """What cannot be built, with the setting or the file, line and key to blame."""
        text = self.told.file.text
        lines = key_lines(text)
        key: tuple[str | int, ...] = tuple(int(k) if k.isdigit() else k for k in error.key.split("."))
        setting = setting_behind(self.told.settings, key, lambda p: p in lines)
        if setting is not None:
            return ScenarioError([Problem(f"--set {shortened(setting.text)}", str(error), error.key)])
        line = lines.get(key)
        source = text.split("\n")[line - 1] if line else None
        return ScenarioError([Problem(self.told.name, str(error), error.key, line, source)])
