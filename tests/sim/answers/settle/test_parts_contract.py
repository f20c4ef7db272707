"""A parts file solved a second time, straight from the words of its contract, with a general root finder.

Nothing of the solver is shared: each pocket's pressure by brentq on the logistic law, equilibria by a random search.
"""

import json

import numpy as np
import pytest
from scipy.optimize import brentq, root
from scipy.special import expit

from sim.answers.settle.report import report_of
from sim.answers.settle.told import settle_answer
from sim.case import Case
from sim.telling.record import as_json

G, RHO, P_AMB = 9.81, 1025.0, 252153.75


class Told:
    """The numbers of one random rig: four parts, a suit of 20 cells, a wing of 12."""

    def __init__(self, seed):
        rng = np.random.default_rng(seed)
        self.mass = np.array([60.0, 30.0, 3.0, rng.uniform(3.0, 6.0)])
        self.cm = np.array([[0.1, 0.01, 0], [0.08, 0, 0.17], [-0.9, 0, -0.05], [0, 0.02, -0.07]])
        self.cm = self.cm + rng.normal(0.0, 0.01, (4, 3))
        self.volume = np.array([58.0, 18.0, 2.2, 0.5]) * 1e-3
        self.cb = self.cm + rng.normal(0.0, 0.005, (4, 3))
        low, high = [-0.9, -0.2, -0.12], [0.5, 0.2, 0.12]
        self.suit_at = rng.uniform(low, high, (20, 3))
        self.least = rng.uniform(0.0, 0.1e-3, 20)
        self.most = self.least + rng.uniform(0.1e-3, 0.5e-3, 20)
        self.gas, self.suit_softness = 0.5 * (self.least + self.most).sum(), rng.uniform(200.0, 900.0)
        self.wing_at = rng.uniform([-0.2, -0.2, 0.1], [0.4, 0.2, 0.2], (12, 3))
        self.room, self.wing_softness = np.full(12, 25e-3 / 12), rng.uniform(150.0, 500.0)
        self.held = self.mass @ self.cm / self.mass.sum()

    def d(self, up):
        """Moment vector d(u) about the CM and the wing's volume, with the wing making the whole neutral."""
        water = [P_AMB - RHO * G * (at - self.held) @ up for at in (self.suit_at, self.wing_at)]

        def suit(gas):
            return self.least + (self.most - self.least) * expit((gas - water[0]) / self.suit_softness)

        v = suit(brentq(lambda p: p * suit(p).sum() - P_AMB * self.gas, 1e3, 5e6, xtol=1e-9))
        need = np.clip((self.mass.sum() - RHO * (self.volume.sum() + v.sum())) / RHO, 0.0, self.room.sum())

        def wing(gas):
            return self.room * expit((gas - water[1]) / self.wing_softness)

        w = wing(brentq(lambda p: wing(p).sum() - need, -5e6, 5e6, xtol=1e-9))
        lift = self.volume @ (self.cb - self.held) + v @ (self.suit_at - self.held) + w @ (self.wing_at - self.held)
        return G * (self.mass @ (self.cm - self.held)) - RHO * G * lift, w.sum()

    def text(self):
        rows = [
            f'format = "parts/1"\n[water]\ndensity = "{RHO} kg/m^3"\ngravity = "{G} m/s^2"',
            f'[depth]\npressure = "{P_AMB} Pa"\nheld = "cm"',
        ]
        for i in range(4):
            rows.append(
                f'[[part]]\nname = "part {i}"\nmass = "{float(self.mass[i])!r} kg"\ncm = {self.cm[i].tolist()}'
            )
            rows.append(f'volume = "{float(self.volume[i] * 1e3)!r} l"\ncb = {self.cb[i].tolist()}')
        rows.append(f'[suit]\ngas = "{float(self.gas * 1e3)!r} l"\nsoftness = "{self.suit_softness!r} Pa"\ncells = [')
        for at, a, b in zip(self.suit_at, self.least * 1e3, self.most * 1e3, strict=True):
            rows.append(f'{{ at = {at.tolist()}, least = "{float(a)!r} l", most = "{float(b)!r} l" }},')
        rows.append(f']\n[wing]\ngas = "neutral"\nsoftness = "{self.wing_softness!r} Pa"\ncells = [')
        rows += [f'{{ at = {at.tolist()}, most = "{25.0 / 12!r} l" }},' for at in self.wing_at]
        return "\n".join([*rows, "]"])


@pytest.mark.parametrize("seed", [11, 12])
def test_a_second_solver_finds_the_same(tmp_path, seed):
    told = Told(seed)
    path = tmp_path / "rig.toml"
    path.write_text(told.text(), encoding="utf-8")
    answer = json.loads(json.dumps(as_json(settle_answer(report_of(Case.read(path).assembled)))))

    d, wing = told.d(np.array([0.0, 0.0, 1.0]))
    # sums of terms of 1e3 N m carried through a text with 17 digits; pressures solved to 1e-9 Pa
    assert answer["flat"]["pitch_moment_nm"] == pytest.approx(-d[0], abs=1e-8)
    assert answer["flat"]["roll_moment_nm"] == pytest.approx(-d[1], abs=1e-8)
    assert answer["whole"]["wing_gas_l"] == pytest.approx(1e3 * wing, abs=1e-9)

    def pitch_moment(angle):
        across = told.d(np.array([np.sin(angle), 0.0, np.cos(angle)]))[0]
        return float(across[2] * np.sin(angle) - across[0] * np.cos(angle))

    grid = np.radians(np.linspace(-90.0, 90.0, 181))
    moments = [pitch_moment(a) for a in grid]
    held = [
        np.degrees(brentq(pitch_moment, grid[i], grid[i + 1]))
        for i in range(180)
        if moments[i] * moments[i + 1] < 0.0
    ]
    assert [h["pitch_deg"] for h in answer["held"]] == pytest.approx(held, abs=1e-6)
    np.testing.assert_allclose(_rests(told, seed), sorted(tuple(r["up"]) for r in answer["rest"]), atol=1e-6)


def _rests(told, seed):
    """Directions where the torque is nil, from 80 random starts, in order."""

    def torque(v):
        up = v / np.linalg.norm(v)
        return np.cross(up, told.d(up)[0]) + 10.0 * (np.linalg.norm(v) - 1.0) * v

    found = []
    for start in np.random.default_rng(seed).normal(size=(80, 3)):
        end = root(torque, start / np.linalg.norm(start), tol=1e-11).x
        up = end / np.linalg.norm(end)
        nil = np.linalg.norm(np.cross(up, told.d(up)[0])) < 1e-7
        if nil and all(np.linalg.norm(up - other) > 1e-4 for other in found):
            found.append(up)
    return sorted(tuple(up.tolist()) for up in found)
