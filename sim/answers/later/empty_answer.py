"""The diver as the cylinders empty, as it is told: ``hangflat.empty/1``, its points also as a table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from sim.answers.later.empty_report import EmptyReport
from sim.answers.later.emptying import Emptying, ItemChange
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.table import as_csv
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.empty/1"


@dataclass(frozen=True)
class Point:
    """The diver held flat at one pressure; moments about the held point."""

    pressure: Annotated[float, Told("pressure", "bar")]
    breathed: Annotated[float, Told("gas breathed", "kg")]
    moment: Annotated[float, Told("trimming moment", "N m", plus="turns head-up", key="pitch_moment_nm")]
    pitch_stiffness: Annotated[float, Told("pitch stiffness", "N m/rad")]
    roll_stiffness: Annotated[float, Told("roll stiffness", "N m/rad")]
    wing_gas: Annotated[float, Told("wing gas", "l")]
    suit_gas: Annotated[float, Told("suit gas", "l")]
    net_buoyancy: Annotated[float, Told("net buoyancy", "kg", plus="floats")]
    heavy: Annotated[
        float | None,
        Told(
            "sinks with an empty wing, minus floats up", "kg", none="no wing that is kept neutral",
            key="heavy_with_empty_wing_kg",
        ),
    ]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class EmptyAnswer:
    """All of it; pressures as the gauge shows."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("the scenario's own")]
    points: Annotated[tuple[Point, ...], Told("the diver at each pressure, as they fall")]
    wing_empty_at: Annotated[
        float | None, Told("pressure below which the wing is empty and the diver light", "bar", none="never")
    ]
    changes: Annotated[tuple[ItemChange, ...], Told("items whose moment changes, the largest change first")]
    estimated: Annotated[tuple[str, ...], Told("inputs that were estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("sentences on what was left as it is")]
    caution: Annotated[str, Told("what this is not")] = CAUTION
    chart: Annotated[WrittenFile | None, Told("the chart", left_out=True)] = None
    table: Annotated[WrittenFile | None, Told("the table", left_out=True)] = None


def empty_answer(report: EmptyReport) -> EmptyAnswer:
    """A report as it is told."""
    found = report.found
    return EmptyAnswer(
        title=report.assembled.title,
        points=tuple(_point(found, i) for i in range(len(found.pressure))),
        wing_empty_at=found.wing_empty_at,
        changes=found.changes,
        estimated=tuple(report.assembled.estimated),
        notes=report.notes,
    )


def _point(found: Emptying, i: int) -> Point:
    heavy = float(found.heavy[i])
    return Point(
        pressure=float(found.pressure[i]),
        breathed=float(found.used[i]),
        moment=float(found.moment[i]),
        pitch_stiffness=float(found.pitch_stiffness[i]),
        roll_stiffness=float(found.roll_stiffness[i]),
        wing_gas=float(found.wing_gas[i]),
        suit_gas=float(found.suit_gas[i]),
        net_buoyancy=float(found.net_buoyancy[i]),
        heavy=heavy if np.isfinite(heavy) else None,
    )


def empty_csv(told: EmptyAnswer) -> str:
    """One row a pressure, units in the header."""
    return as_csv(Point, told.points)
