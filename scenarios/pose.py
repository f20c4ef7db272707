"""How the diver holds arms and legs."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from scenarios.joint_names import standard_joints
from scenarios.quantities import Quantity
from scenarios.table import Table

PoseName = Literal["flat, knees bent", "flat, legs straight", "arms ahead", "arms at sides", "upright"]


class Pose(Table):
    """A named pose, with single joints set apart from it."""

    name: Annotated[PoseName, Field(description="The pose to start from")] = "flat, knees bent"
    joints: Annotated[
        dict[str, Annotated[float, Quantity("angle", "a joint angle", "95 deg", "-180 deg", "190 deg")]],
        Field(description='Joints that differ from it: "knee flexion" for both sides, "left knee flexion" for one'),
    ] = {}  # noqa: RUF012 - pydantic copies defaults

    @classmethod
    def _standard(cls, data: dict[str, Any]) -> dict[str, Any]:
        if isinstance(data.get("joints"), dict):
            return {**data, "joints": standard_joints(data["joints"])}
        return data
