"""A rig without gas takes the way that an independent rigid-body engine takes, and settles where it settles it."""

import csv

import mujoco
import numpy as np
import pytest

from sim.answers.evidence.motion import checks
from sim.rig import rig_of
from sim.settling.settle import settle

RESISTANCE = 25.0  # N m s: enough to stop the engine's swing within the time given; rest does not depend on it


def settled_by_engine(rig, seconds=60.0, step=0.02):
    """World's up in body axes once a free body with weight at its CM and buoyancy at its CB has stopped."""
    whole, water = rig.whole, rig.water
    numbers = " ".join(repr(float(whole.inertia[i, j])) for i, j in ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2)))
    # the joint sits at the CM, or its damping would turn a drifting body
    model = mujoco.MjModel.from_xml_string(
        f"""<mujoco><option timestep="{step}" gravity="0 0 {-water.gravity}" integrator="RK4"/>
        <worldbody><body name="rig"><freejoint/>
        <inertial pos="0 0 0" mass="{whole.mass}" fullinertia="{numbers}"/></body></worldbody></mujoco>"""
    )
    data = mujoco.MjData(model)
    arm = whole.cb - whole.cm
    lift = np.array([0.0, 0.0, water.density * water.gravity * whole.volume])
    body = mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, "rig")
    tilt = np.radians(0.5)  # the same half degree of roll to start with, left side up
    data.qpos[3:7] = [np.cos(0.5 * tilt), np.sin(0.5 * tilt), 0.0, 0.0]
    for _ in range(int(seconds / step)):
        turn = data.xmat[body].reshape(3, 3)
        if not turn.any():
            mujoco.mj_forward(model, data)
            turn = data.xmat[body].reshape(3, 3)
        data.xfrc_applied[body, :3] = lift - 50.0 * data.qvel[:3]
        data.xfrc_applied[body, 3:] = np.cross(turn @ arm, lift) - turn @ (RESISTANCE * data.qvel[3:6])
        mujoco.mj_step(model, data)
    mujoco.mj_forward(model, data)
    assert np.linalg.norm(data.qvel[3:5]) < 1e-4
    return data.xmat[body].reshape(3, 3)[2].copy()


@pytest.mark.parametrize("seed", [0, 4])
def test_same_rest(make_random_rig, seed):
    scattered = make_random_rig(seed)
    rig = rig_of(scattered.parts, scattered.water)
    ours = settle(rig, roll="free")
    assert ours.reached
    theirs = settled_by_engine(rig)
    closed_form = (rig.whole.cb - rig.whole.cm) / np.linalg.norm(rig.whole.cb - rig.whole.cm)
    # ours stops within 0.01 degree of rest; the engine is left with 1e-4 rad/s of a swing of over 1 s
    assert np.linalg.norm(ours.up - theirs) < np.radians(0.05)
    assert np.linalg.norm(theirs - closed_form) < np.radians(0.03)


def test_same_way(script):
    """What the evidence stores of the engine's way is its way, and its step was fine enough."""
    by_engine = script("swing_by_mujoco")
    with by_engine.TABLES[1].open(newline="", encoding="utf-8") as file:
        stored = [[float(x) for x in row] for row in list(csv.reader(file))[1:]]
    assert [r[0] for r in stored] == list(by_engine.TIMES)
    coarse = by_engine.way(2e-3)
    # the engine's order is 4: a step of 2 ms leaves 256 times the error of the 0.5 ms that the table was made with
    assert np.abs(np.array(coarse) - [r[1:] for r in stored]).max() < 1e-6
    for check in checks():
        assert all(case.passes for case in check.compute()), check.name
