"""What the model says that scale, bar and stopwatch should have shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from sim.answers.check_bench.bench_file import Drift, End
from sim.person.tissue import CB_CM_UNCERTAINTY
from sim.rig import Rig
from sim.settling.settle import Settled, settle
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, ItemMoment, flat_answer, moment_budget

NOTICED: Final = np.radians(5.0)  # of turn: what an onlooker can tell
TURNED: Final = np.radians(30.0)
Sort = Literal["body", "suit", "gear"]


@dataclass(frozen=True, eq=False)
class Modelled:
    """A rig's items and its answer when held flat."""

    rig: Rig
    flat: FlatAnswer
    items: tuple[ItemMoment, ...]

    @property
    def moment_sd(self) -> float:
        """SD [N m] of the trimming moment by what is known of people's CB - CM alone."""
        body = sum(i.mass for i in self.items if i.kind == "body")
        return body * self.rig.water.gravity * CB_CM_UNCERTAINTY


@dataclass(frozen=True)
class Lump:
    """Several items of the model as one thing on the bench.

    mass [kg], volume [m^3];  cm : of its CM [m], along the body from the hips
    foot_end, head_end : [m] from the hips, None where the model knows no shape
    """

    mass: float
    volume: float
    cm: float
    foot_end: float | None
    head_end: float | None
    sort: Sort

    def balance(self, end: End) -> float | None:
        """Distance [m] of the balance point from an end, or plus headward from the hips."""
        if end == "hips":
            return self.cm
        if self.foot_end is None or self.head_end is None:
            return None
        return self.cm - self.foot_end if end == "foot end" else self.head_end - self.cm


@dataclass(frozen=True)
class Turning:
    """What an onlooker sees of the freeze test; time [s] to 30 degrees, None when that is not reached."""

    drift: Drift
    time_to_30: float | None


def modelled(rig: Rig) -> Modelled:
    """Work the rig out, held flat."""
    soft = soft_rig(rig)
    flat = flat_answer(soft)
    return Modelled(rig, flat, moment_budget(soft, flat))


def lump(model: Modelled, names: Sequence[str]) -> Lump:
    """The named items as one. Raises KeyError with the first name that the model does not have."""
    for name in names:
        if all(i.name != name for i in model.items):
            raise KeyError(name)
    chosen = [i for i in model.items if i.name in names]
    mass = sum(i.mass for i in chosen)
    held = float(model.rig.held[0])
    cm = held + sum(i.mass * i.arm for i in chosen) / mass if mass > 0.0 else held + chosen[0].arm
    # a cylinder's gas lies inside it and has no ends of its own
    meshes = [p.solid.mesh for p in model.rig.parts if p.name in names and p.kind != "breathing gas"]
    drawn = [m.vertices[:, 0] for m in meshes if m is not None]
    whole = bool(drawn) and len(drawn) == len(meshes)
    return Lump(
        mass, sum(i.volume for i in chosen), cm,
        min(float(x.min()) for x in drawn) if whole else None,
        max(float(x.max()) for x in drawn) if whole else None,
        _sort(chosen),
    )  # fmt: skip


def _sort(chosen: Sequence[ItemMoment]) -> Sort:
    kinds = {i.kind for i in chosen}
    if kinds & {"suit gas", "suit", "wetsuit"}:
        return "suit"
    return "body" if "body" in kinds else "gear"


def turning(rig: Rig) -> Turning:
    """The freeze test, roll held."""
    return seen(settle(rig, roll="held"))


def seen(settled: Settled) -> Turning:
    """What an onlooker sees of a motion from flat."""
    time, pitch = settled.path.time, np.unwrap(settled.path.pitch)
    size = np.abs(pitch)
    noticed = np.flatnonzero(size >= NOTICED)
    drift: Drift = "none" if not len(noticed) else "head-up" if pitch[noticed[0]] > 0.0 else "head-down"
    past = np.flatnonzero(size >= TURNED)
    if not len(past):
        return Turning(drift, None)
    i = int(past[0])
    if i == 0:
        return Turning(drift, float(time[0]))
    return Turning(drift, float(np.interp(TURNED, size[i - 1 : i + 1], time[i - 1 : i + 1])))
