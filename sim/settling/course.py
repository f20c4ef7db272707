"""Following a rig in time until it rests, drifts off, or no more time is allowed.

A swing that only dies away is not followed to its end in the water's own time: once the rig is sure to stay within
half a degree of a stable rest, or swings on beyond what anybody would wait for, it is damped critically. Where it
then rests is a rest of the same equations, since at rest nothing damps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final, Literal, cast

import numpy as np

from meshes.mesh import Floats
from sim.settling.jacobian import jacobian
from sim.settling.motion import Model, instant, right_hand_side
from sim.settling.rest import CLOSE, critical_damping, nearness

if TYPE_CHECKING:
    from scipy.integrate import LSODA

End = Literal["at rest", "poised", "risen", "sunk", "past the vertical", "time ran out", "steps ran out"]
Pause = End | Literal["caught", "outlasting"]

NUDGE: Final = float(np.radians(0.5))  # rad: the touch given to a rig that is poised on a saddle
TOUCHES: Final = 6  # as many times; a rig that still comes back to a saddle has nowhere to go
QUICK: Final = 0.5  # rad/s: turning faster than this, no diver is near rest
CAUGHT: Final = float(np.radians(0.5))  # rad: from here on a swing about a stable rest is damped
EVERY: Final = 5  # steps between looks at whether it rests
LONGEST_STEP: Final = 20.0  # s


@dataclass(frozen=True)
class Limits:
    """How long and how far a rig is followed.

    time : simulated [s];  steps : of the solver, so that the work has an end;  drift : rise or sink [m]
    patience, patient_steps : a rig that swings on beyond this time [s], or so many steps, is damped
    tolerance : of the solver, relative;  frame : time between the states kept [s]
    """

    time: float = 3600.0
    steps: int = 40_000
    patience: float = 900.0
    patient_steps: int = 8_000
    drift: float = 2.0
    tolerance: float = 1e-5
    frame: float = 0.2


@dataclass(frozen=True, eq=False)
class Course:
    """States (n, states) of a model at times (n,) [s], the last of them the end; ``touches`` given on the way.

    outlasted : time [s] from which on it was damped, having swung on beyond the limits' patience; None if it did not
    """

    time: Floats
    states: Floats
    end: End
    touches: int
    outlasted: float | None = None


def follow(model: Model, start: Floats, limits: Limits) -> Course:
    """Follow a model from the state ``start`` until it is at rest or a limit is met.

    A rig found at rest where it is not stable (on a saddle, or on a top) is touched: moved by ``NUDGE`` to the
    side it leans to. So the end is a minimum, whatever the start.
    """
    from threadpoolctl import threadpool_limits

    # the matrices have at most 16 rows, on which the threads of a BLAS cost ten times what they gain
    with threadpool_limits(limits=1, user_api="blas"):
        return _followed(model, start, limits)


def _followed(model: Model, start: Floats, limits: Limits) -> Course:
    times, states = [0.0], [start]
    y, touches, steps = start, 0, 0
    caught, outlasted = False, None
    pause = _pause(model, 0.0, y, limits)
    while pause is None or pause in ("poised", "caught", "outlasting"):
        if pause == "poised":
            if touches == TOUCHES:
                break
            y, touches = _touched(model, y), touches + 1
        elif pause is not None:
            caught |= pause == "caught"
            outlasted = times[-1] if pause == "outlasting" else outlasted
            model = replace(model, damping=critical_damping(model, instant(model, y), near=caught))
        solver = _solver(model, times[-1], y, limits)
        pause = None
        while pause is None:
            solver.step()
            steps += 1
            _keep_frames(solver, limits.frame, times, states)
            y = np.asarray(solver.y)
            if solver.status == "failed" or steps >= limits.steps:
                pause = "steps ran out"
            elif solver.status == "finished":
                pause = "time ran out"
            elif steps % EVERY == 0:
                pause = _pause(model, float(solver.t), y, limits)
                if pause == "caught" and caught:
                    pause = None
                tired = solver.t > limits.patience or steps > limits.patient_steps
                if pause is None and tired and outlasted is None and not (caught or model.heaves):
                    pause = "outlasting"
        if float(solver.t) > times[-1]:
            times.append(float(solver.t))
            states.append(y)
    end = cast(End, pause)  # the other pauses all went on above
    return Course(np.array(times), np.array(states), end, touches, outlasted)


def _pause(model: Model, time: float, y: Floats, limits: Limits) -> Pause | None:
    """Why the motion ends here or its equations change ("poised", "caught"); None when it goes on."""
    if model.heaves and abs(y[model.mechanical - 2]) > limits.drift:
        return "risen" if y[model.mechanical - 2] > 0.0 else "sunk"
    if time >= limits.time:
        return "time ran out"
    if np.sqrt(y[model.spins] @ y[model.spins]) > QUICK:
        return None
    near = nearness(model, instant(model, y), CAUGHT)
    if near.still and near.distance < CLOSE:
        return "at rest" if near.stable else "poised"
    if near.stable and near.distance < CAUGHT and (near.still or not model.heaves):
        return "caught"
    return None


def _touched(model: Model, y: Floats) -> Floats:
    """The state with its attitude moved by ``NUDGE`` down the softest direction, gas and speeds as they are."""
    now = instant(model, y)
    moved = y.copy()
    moved[:3] = np.cos(NUDGE) * now.up + np.sin(NUDGE) * nearness(model, now).soft_axis
    return moved


def _solver(model: Model, time: float, y: Floats, limits: Limits) -> LSODA:
    from scipy.integrate import LSODA

    def rate(_: float, state: Any) -> Floats:
        return right_hand_side(model, np.asarray(state))

    def slopes(_: float, state: Any) -> Floats:
        return jacobian(model, np.asarray(state))

    relative, absolute = np.full(len(y), limits.tolerance), np.full(len(y), 0.1 * limits.tolerance)
    for bag, gas in ((model.suit, model.suit_gas), (model.wing, model.wing_gas)):
        if bag is not None:
            # what counts is a cell's pressure beside that over which its law bends; a and w s.b may be far larger
            share = np.minimum(1.0, bag.law.scale / np.maximum(np.abs(bag.basis).max(axis=0), 1e-300))
            share[0] = bag.law.scale
            absolute[gas] = 0.3 * limits.tolerance * share
            relative[gas] *= 0.01
    return LSODA(
        rate,
        time,
        y,
        limits.time,
        rtol=relative,
        atol=absolute,
        jac=slopes,
        max_step=LONGEST_STEP,
        first_step=1e-4,
    )


def _keep_frames(solver: LSODA, frame: float, times: list[float], states: list[Floats]) -> None:
    """Add the states at every frame that the last step passed."""
    first = int(np.floor(times[-1] / frame)) + 1
    last = int(np.floor(float(solver.t) / frame))
    if solver.t_old is None or last < first:
        return
    dense = solver.dense_output()
    for number in range(first, last + 1):
        if number * frame > times[-1]:
            times.append(number * frame)
            states.append(np.asarray(dense(number * frame)))
