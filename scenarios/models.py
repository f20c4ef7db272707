"""The scenario file as one frozen model: a person, the gear they wear and the water they are in. All values SI."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, PrivateAttr, ValidationInfo, model_validator

from scenarios.back_gear import OptionalHarness, OptionalPlate, OptionalWing
from scenarios.believable import lead_refusal, worn_refusal
from scenarios.cylinders import OptionalCylinders
from scenarios.diver import Diver
from scenarios.errors import InnerError
from scenarios.file_names import place_named
from scenarios.fit import Fit
from scenarios.known import Known, read_known
from scenarios.later import NOT_A_STAGE, ON_THE_BACK, Later
from scenarios.loose_gear import AnyGear, Lead, OptionalFins, StageCylinder
from scenarios.pose import Pose
from scenarios.rebreather import OptionalRebreather
from scenarios.suit import OptionalSuit
from scenarios.table import Table
from scenarios.water import Water

SCENARIO_FORMAT = "scenario/1"


def _named_pose(value: Any) -> Any:
    return {"name": value} if isinstance(value, str) else value


def _none_is_empty(value: Any) -> Any:
    return [] if isinstance(value, str) and value.strip().lower() == "none" else value


def _none_is_nothing(value: Any) -> Any:
    return None if isinstance(value, str) and value.strip().lower() == "none" else value


class Scenario(Table):
    """Everything a user wrote. Gear that is left out is not worn; [diver] alone must be there."""

    format: Annotated[Literal["scenario/1"], Field(description="Kind of file; may be left out")] = "scenario/1"
    title: Annotated[str | None, Field(description="A line for pictures and reports", max_length=120)] = None
    known: Annotated[
        str | None,
        BeforeValidator(_none_is_nothing),
        Field(description='File of what measurements have taught of this diver, written by "hangflat calibrate"'),
    ] = None
    diver: Annotated[Diver, Field(description="The person")]
    water: Annotated[Water, Field(description="Water and depth")] = Water()
    suit: Annotated[OptionalSuit, Field(description="Drysuit or wetsuit")] = None
    plate: Annotated[OptionalPlate, Field(description="Backplate")] = None
    harness: Annotated[OptionalHarness, Field(description="Webbing and buckles")] = None
    cylinders: Annotated[OptionalCylinders, Field(description="Cylinders on the back")] = None
    rebreather: Annotated[
        OptionalRebreather, Field(description="Rebreather on the back, in place of cylinders there")
    ] = None
    wing: Annotated[OptionalWing, Field(description="Buoyancy bag")] = None
    fins: Annotated[OptionalFins, Field(description="Pair of fins")] = None
    pose: Annotated[Pose, BeforeValidator(_named_pose), Field(description="Arms and legs")] = Pose()
    fit: Annotated[Fit, Field(description="How freely the diver moves, for the command fit")] = Fit()
    lead: Annotated[
        tuple[Lead, ...],
        BeforeValidator(_none_is_empty),
        Field(max_length=100, description="Lead, one entry a place"),
    ] = ()
    gear: Annotated[
        tuple[AnyGear, ...],
        BeforeValidator(_none_is_empty),
        Field(max_length=100, description="Anything else, stage cylinders too"),
    ] = ()
    later: Annotated[
        Later | None, Field(description="Depths, times and gas as it goes on, for the command later")
    ] = None
    _learnt: Known | None = PrivateAttr(default=None)

    @property
    def learnt(self) -> Known | None:
        """What ``known`` holds."""
        return self._learnt

    def as_told(self) -> Scenario:
        """The same without what was learnt."""
        told = self.model_copy(update={"known": None})
        told._learnt = None
        return told

    @model_validator(mode="after")
    def _believed(self) -> Self:
        """What is worn lies on or near the diver, and is not more lead than they weigh."""
        for where, items in (("lead", self.lead), ("gear", self.gear)):
            for i, item in enumerate(items):
                if item.at is not None and (refusal := worn_refusal(item.at, self.diver.height)):
                    raise InnerError(refusal, where, i, "at")
        if refusal := lead_refusal(math.fsum(item.mass for item in self.lead), self.diver.mass):
            raise InnerError(refusal, "lead")
        return self

    @model_validator(mode="after")
    def _one_set_on_the_back(self) -> Self:
        if self.rebreather is not None and self.cylinders is not None:
            message = (
                "a rebreather and cylinders cannot both be on the back here; leave one of them out (bail-out "
                'cylinders are gear: kind = "stage")'
            )
            raise InnerError(message, "rebreather")
        return self

    @model_validator(mode="after")
    def _stages_known(self) -> Self:
        """What is breathed, left and taken later is carried, and known by its name."""
        for i, item in enumerate(self.gear):
            if isinstance(item, StageCylinder) and item.name in NOT_A_STAGE:
                message = f'"{item.name}" is how what is breathed from the back is called; give this another name'
                raise InnerError(message, "gear", i, "name")
        stages = [item.name for item in self.gear if isinstance(item, StageCylinder)]
        for i, stretch in enumerate(() if self.later is None else self.later.stretch):
            named = [("leave", n) for n in stretch.leave] + [("take", n) for n in stretch.take]
            for key, name in [*named, *([] if stretch.breathe == ON_THE_BACK else [("breathe", stretch.breathe)])]:
                if stages.count(name) != 1:
                    message = f"one stage of that name is needed, and {stages.count(name)} are among the gear"
                    raise InnerError(f'"{name}": {message}', "later", "stretch", i, key)
            if stretch.breathe == ON_THE_BACK and self.cylinders is None and self.rebreather is None:
                known = ", ".join(f'"{name}"' for name in stages) or "none"
                message = f"no cylinders are on the back; say which cylinder of the gear is breathed: {known}"
                raise InnerError(message, "later", "stretch", i, "breathe")
        return self

    @model_validator(mode="after")
    def _with_known(self, info: ValidationInfo) -> Self:
        """What was learnt is looked for beside the scenario file."""
        if self.known is None or self._learnt is not None:
            return self
        folder = (info.context or {}).get("folder")
        known = place_named(self.known)
        place = known if folder is None else Path(folder) / known
        try:
            learnt = read_known(place)
            learnt.check(self)
        except ValueError as error:
            raise InnerError(str(error), "known") from None
        self._learnt = learnt
        return self
