"""Follow the evidence's swinging rig with MuJoCo and store its way:  .venv/bin/python scripts/swing_by_mujoco.py

The rig turns about its CM, which is held (weight and buoyancy balance); buoyancy is a torque about the CM.
"""

import csv
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TABLES = (ROOT / "sim/answers/evidence/data/swing_mujoco.csv", ROOT / "tests/published/tables/swing_mujoco.csv")
STEP = 5e-4  # s
TIMES = (1.0, 2.0, 5.0, 10.0, 15.0, 20.0)  # s


def way(step=STEP):
    """World's up in body axes (3,) at each of ``TIMES``."""
    import mujoco
    import numpy as np

    from sim.answers.evidence.motion import swinging_model, swinging_rig

    rig, (model, start) = swinging_rig(), swinging_model()
    whole, inertia = rig.whole, model.rotation
    entries = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))
    numbers = " ".join(repr(float(inertia[i, j])) for i, j in entries)
    engine = mujoco.MjModel.from_xml_string(
        f"""<mujoco><option timestep="{step}" gravity="0 0 0" integrator="RK4"/>
        <worldbody><body name="rig"><joint type="ball"/>
        <inertial pos="0 0 0" mass="{whole.mass}" fullinertia="{numbers}"/></body></worldbody></mujoco>"""
    )
    data = mujoco.MjData(engine)
    data.qpos[:4] = _attitude(start[:3])
    arm, lift = whole.cb - whole.cm, np.array([0.0, 0.0, whole.mass * rig.water.gravity])

    def buoyancy(m, d):
        turn = np.zeros(9)
        mujoco.mju_quat2Mat(turn, d.qpos[:4])
        d.qfrc_passive[:3] += np.cross(arm, turn.reshape(3, 3).T @ lift)  # a ball joint's torque is in body axes

    mujoco.set_mjcb_passive(buoyancy)
    found = []
    try:
        for number in range(1, round(max(TIMES) / step) + 1):
            mujoco.mj_step(engine, data)
            if any(abs(number * step - t) < 0.5 * step for t in TIMES):
                turn = np.zeros(9)
                mujoco.mju_quat2Mat(turn, data.qpos[:4])
                found.append(turn.reshape(3, 3)[2].copy())
    finally:
        mujoco.set_mjcb_passive(None)
    return found


def _attitude(up):
    """Quaternion (4,) that turns body axes so that the world's up is ``up`` (3,) in them, heading left alone."""
    from scipy.spatial.transform import Rotation

    turn, _ = Rotation.align_vectors([[0.0, 0.0, 1.0]], [up])
    return turn.as_quat(scalar_first=True)


def main():
    rows = [[f"{t:g}", *(f"{x:.7f}" for x in up)] for t, up in zip(TIMES, way(), strict=True)]
    for file in TABLES:
        with file.open("w", newline="", encoding="utf-8") as out:
            csv.writer(out, lineterminator="\n").writerows([["time[s]", "up_x[-]", "up_y[-]", "up_z[-]"], *rows])
    print(f"written: {', '.join(str(f.relative_to(ROOT)) for f in TABLES)}")


if __name__ == "__main__":
    sys.exit(main())
