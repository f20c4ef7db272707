"""The scenario file as one frozen model: a person, the gear they wear and the water they are in. All values SI."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from scenarios.back_gear import OptionalHarness, OptionalPlate, OptionalWing
from scenarios.cylinders import OptionalCylinders
from scenarios.diver import Diver
from scenarios.fit import Fit
from scenarios.loose_gear import AnyGear, Lead, OptionalFins
from scenarios.pose import Pose
from scenarios.suit import OptionalSuit
from scenarios.table import Table
from scenarios.water import Water

SCENARIO_FORMAT = "scenario/1"


def _named_pose(value: Any) -> Any:
    return {"name": value} if isinstance(value, str) else value


def _none_is_empty(value: Any) -> Any:
    return [] if isinstance(value, str) and value.strip().lower() == "none" else value


class Scenario(Table):
    """Everything a user wrote. Gear that is left out is not worn; [diver] alone must be there."""

    format: Annotated[Literal["scenario/1"], Field(description="Kind of file; may be left out")] = "scenario/1"
    title: Annotated[str | None, Field(description="A line for pictures and reports", max_length=120)] = None
    diver: Annotated[Diver, Field(description="The person")]
    water: Annotated[Water, Field(description="Water and depth")] = Water()
    suit: Annotated[OptionalSuit, Field(description="Drysuit or wetsuit")] = None
    plate: Annotated[OptionalPlate, Field(description="Backplate")] = None
    harness: Annotated[OptionalHarness, Field(description="Webbing and buckles")] = None
    cylinders: Annotated[OptionalCylinders, Field(description="Cylinders on the back")] = None
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
