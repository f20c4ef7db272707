"""Let a rig go and follow it until it rests: the freeze test, computed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig
from sim.settling.course import NUDGE, Course, End, Limits, follow
from sim.settling.gas_flow import Bag, within
from sim.settling.motion import Model, instant, model_of
from sim.statics.equilibria import INDIFFERENT
from sim.statics.field import SoftRig, field, soft_rig
from sim.statics.gas import at_rest
from sim.statics.held import held_pitches, pitch_moment, up_of_pitch
from sim.statics.sphere import direction, icosphere

Roll = Literal["held", "free"]
WingRule = Literal["neutral", "left alone"]
Depth = Literal["held", "free"]
Outcome = End | Literal["indifferent"]

SETTLED: Final = float(np.radians(1.0))  # rad from the end: inside this for good, an onlooker calls it settled
ROLLED: Final = float(np.radians(30.0))  # rad of roll at which a diver who turns over has noticed
UPRIGHT: Final = float(np.radians(0.05))  # rad from the vertical; a rest is met to this
TAIL: Final = 5.0  # s of path kept after it has settled


@dataclass(frozen=True, eq=False)
class Path:
    """What happened, at times (n,) [s].

    up : (n, 3) world's up in body axes;  pitch, roll : (n,) [rad], head-up and left side up plus
    height : (n,) [m] risen since the start;  suit, wing : (n, cells) gas in each cell [m^3]
    """

    time: Floats
    up: Floats
    pitch: Floats
    roll: Floats
    height: Floats
    suit: Floats
    wing: Floats


@dataclass(frozen=True, eq=False)
class Settled:
    """Where a rig let go comes to rest, or why it does not.

    pitch, roll : [rad] at the end;  up : (3,) world's up in body axes
    time : [s] after which the attitude stays within 1 degree of its end (never at rest: all that was simulated)
    reached : it rests as asked;  outcome : how it ended;  roll_rule : roll held by a hand, or free
    turned_over : it ended face up;  time_to_30_roll : [s] until one side was 30 degrees up, None if never
    suit_gas, wing_gas : [m^3] and net_buoyancy : [kg], plus floats, all at the end
    touches : how often it had to be nudged off an attitude where it was poised
    outlasted : it swung on for so long that it was damped to find its rest; ``time`` is then the least it takes
    """

    pitch: float
    roll: float
    up: Floats
    time: float
    reached: bool
    outcome: Outcome
    roll_rule: Roll
    turned_over: bool
    time_to_30_roll: float | None
    suit_gas: float
    wing_gas: float
    net_buoyancy: float
    touches: int
    outlasted: bool
    path: Path


def settle(
    rig: Rig,
    *,
    roll: Roll = "held",
    wing: WingRule = "neutral",
    depth: Depth = "held",
    pitch_start: float = 0.0,
    roll_start: float = 0.0,
    limits: Limits | None = None,
) -> Settled:
    """Let a rig go, its gas at rest, from a start attitude [rad] (flat by default), and follow it to rest.

    roll : "held" turns about the body's left-right axis only, roll 0; "free" starts with half a degree of roll
        more, so that a diver who would turn over does
    wing : "neutral" keeps the whole neutral throughout; "left alone" keeps the volume that made it so at the start.
        A pocket with a volume of its own keeps that under either rule.
    depth : "held" by hand or fin; "free" lets the held point rise and sink straight up and down; suit gas, and a
        wing left alone, then follow Boyle's law, and the motion ends when ``limits.drift`` is passed

    The attitude turns about the held point, which does not drift sideways. A rig that cannot rest is an answer
    (``reached`` False). Raises ValueError for a start out of range or a time constant that is not > 0.
    """
    limits = Limits() if limits is None else limits
    if not (abs(pitch_start) <= 0.5 * np.pi and abs(roll_start) <= np.pi):
        raise ValueError(f"start within pitch +-90 and roll +-180 degrees, got {pitch_start} and {roll_start} rad")
    if roll == "held" and roll_start != 0.0:
        raise ValueError("roll is held at 0: a start with roll needs roll='free'")
    soft = soft_rig(rig)
    steady = direction(pitch_start, roll_start)
    up = direction(pitch_start, roll_start + (NUDGE if roll == "free" else 0.0))
    frozen = float(field(soft, steady[None]).wing_gas[0]) if wing == "left alone" else None
    model = model_of(
        rig,
        roll_held=roll == "held",
        heaves=depth == "free",
        wing_volume=soft.wing_volume if soft.wing_volume is not None else frozen,
    )
    start = starting_state(model, soft, up)
    if indifferent(soft, roll):
        alone = Course(np.zeros(1), start[None], "at rest", 0)
        return _answer(model, alone, roll, "indifferent")
    course = follow(model, start, limits)
    outcome: Outcome = course.end
    if roll == "held" and outcome == "at rest" and _over(soft, course.states[-1]):
        outcome = "past the vertical"
    return _answer(model, course, roll, outcome)


def starting_state(model: Model, soft: SoftRig, up: Floats) -> Floats:
    """State vector of a motionless model at ``up`` (3,), gas at rest."""
    here = up[None]
    values = field(soft, here, wing_volume=model.wing_volume)
    y = np.zeros(model.wing_gas.stop)
    y[:3] = up
    if model.suit is not None and values.suit is not None:
        y[model.suit_gas] = np.append(values.suit.pressure, up)
    if model.wing is not None and soft.wing is not None:
        volume = within(model.wing, float(values.wing_gas[0]))
        y[model.wing_gas] = np.append(at_rest(soft.wing, here, np.array([volume])).pressure, up)
    return y


def indifferent(soft: SoftRig, roll: Roll) -> bool:
    """True when no attitude that the rig can take turns it by more than ``INDIFFERENT`` N m."""
    if roll == "held":
        moment = pitch_moment(field(soft, up_of_pitch(np.linspace(-np.pi, np.pi, 24, endpoint=False))))
    else:
        up = icosphere(1)[0]
        moment = np.linalg.norm(np.cross(up, field(soft, up).d), axis=1)
    return not float(np.abs(moment).max()) > INDIFFERENT


def _answer(model: Model, course: Course, roll: Roll, outcome: Outcome) -> Settled:
    path = _path(model, course, roll)
    last = instant(model, course.states[-1])
    pitch = float(path.pitch[-1])
    if roll == "held" and outcome == "at rest":
        pitch = min(max(pitch, -0.5 * np.pi), 0.5 * np.pi)  # beyond the vertical by less than the motion is followed
    away = _angles(path.up, path.up[-1])
    time = _last_above(path.time, away, SETTLED) if course.end == "at rest" else float(path.time[-1])
    sideways = np.arcsin(np.clip(np.abs(path.up[:, 1]), 0.0, 1.0))
    shown = path.time <= max(time + TAIL, 1.1 * time)
    return Settled(
        pitch=pitch,
        roll=float(path.roll[-1]),
        up=path.up[-1],
        time=time,
        reached=outcome == "at rest",
        outcome=outcome,
        roll_rule=roll,
        turned_over=bool(last.up[2] < 0.0),
        time_to_30_roll=_first_above(path.time, sideways, ROLLED) if roll == "free" else None,
        suit_gas=last.suit.filling.total if last.suit is not None else 0.0,
        wing_gas=last.wing.filling.total if last.wing is not None else 0.0,
        net_buoyancy=last.lift / model.gravity,
        touches=course.touches,
        outlasted=course.outlasted is not None and time > course.outlasted,
        path=Path(path.time[shown], path.up[shown], path.pitch[shown], path.roll[shown], path.height[shown],
                  path.suit[shown], path.wing[shown]),
    )  # fmt: skip


def _over(soft: SoftRig, y: Floats) -> bool:
    """True when a rig at rest with roll held lies beyond the vertical; so near it that the motion cannot tell,
    the statics say on which side the rest is."""
    sideways, headward = float(y[2]), float(y[0])
    if not abs(sideways) < UPRIGHT:
        return sideways < 0.0
    return not any(h.stable and h.pitch * np.sign(headward) > 0.5 * np.pi - 2.0 * UPRIGHT for h in held_pitches(soft))


def _path(model: Model, course: Course, roll: Roll) -> Path:
    y = course.states
    up = y[:, :3] / np.linalg.norm(y[:, :3], axis=1)[:, None]
    if roll == "held":  # unfolded, so that a diver pitching past the vertical does not seem to have rolled
        pitch, turned = np.arctan2(up[:, 0], up[:, 2]), np.zeros(len(up))
    else:
        pitch, turned = np.arcsin(np.clip(up[:, 0], -1.0, 1.0)), np.arctan2(up[:, 1], up[:, 2])
    return Path(
        time=course.time,
        up=up,
        pitch=np.asarray(pitch),
        roll=np.asarray(turned),
        height=y[:, model.mechanical - 2] if model.heaves else np.zeros(len(y)),
        suit=_cells(model.suit, y[:, model.suit_gas]),
        wing=_cells(model.wing, y[:, model.wing_gas]),
    )


def _cells(bag: Bag | None, gas: Floats) -> Floats:
    """Gas (n, cells) [m^3] in each cell of a bag at states ``gas`` (n, 4)."""
    return bag.law.volume(gas @ bag.basis.T) if bag is not None else np.zeros((len(gas), 0))


def _angles(up: Floats, end: Floats) -> Floats:
    """Angles (n,) [rad] between directions ``up`` (n, 3) and ``end`` (3,)."""
    return np.asarray(2.0 * np.arcsin(np.clip(0.5 * np.linalg.norm(up - end, axis=1), 0.0, 1.0)))


def _last_above(time: Floats, values: Floats, level: float) -> float:
    """Time [s] at which ``values`` (n,) comes down through ``level`` for good; 0 if it never was above."""
    above = np.flatnonzero(values > level)
    if not len(above):
        return 0.0
    i = int(above[-1])
    if i + 1 == len(values):
        return float(time[i])
    share = (values[i] - level) / (values[i] - values[i + 1])
    return float(time[i] + share * (time[i + 1] - time[i]))


def _first_above(time: Floats, values: Floats, level: float) -> float | None:
    """Time [s] at which ``values`` (n,) first goes up through ``level``; None if it never does."""
    above = np.flatnonzero(values > level)
    if not len(above):
        return None
    i = int(above[0])
    if i == 0:
        return 0.0
    share = (level - values[i - 1]) / (values[i] - values[i - 1])
    return float(time[i - 1] + share * (time[i] - time[i - 1]))
