"""How far the straight lines of ``settle --uncertain`` are off, against bodies and gear built anew; some minutes:

    .venv/bin/python scripts/uncertainty_error.py [draws]

Each draw changes all unknowns at once. Body, lungs, density, height of the plate and the suit (its last venting, cut,
garment, boots) are built anew, the rest is as in the program, where it is no approximation. The band's ratio is told
with its own error, by drawing the draws again.
"""

from __future__ import annotations

import os
import sys
from functools import cache, partial

import numpy as np

from scenarios.by_key import told_otherwise, told_value
from scenarios.demos import demo_path
from scenarios.models import Scenario
from scenarios.reading import read_scenario
from sim.assembly.learnt import with_suit
from sim.assembly.scenario_rig import assembled_scenario
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.body import (
    LUNG_HALF_WIDTH,
    MeasurePairs,
    measure_pairs,
    person_of_scenario,
    pinned,
    with_measures,
)
from sim.uncertainty.rig_numbers import numbers_of, rig_of_numbers
from sim.uncertainty.sampling import SEED, spread_points
from sim.uncertainty.shares import width
from sim.uncertainty.uncertain_rig import PLACED, uncertain_scenario
from sim.uncertainty.variates import NINETY, UncertainRig
from sim.worker_pool import WorkerPool

DEMOS = ("tall-man-steel", "small-woman-steel", "single-wetsuit", "loose-legs")
AGAIN = 2000


def main() -> None:
    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 512
    print(f"moment when flat, {draws} draws     SD [N m]    SD ratio    band ratio    RMS of a draw / SD", flush=True)
    for demo in DEMOS:
        _, unknown, _ = _unknown(demo)
        z = spread_points([v.shape for v in unknown.variates], draws, SEED)
        lines = np.array([_moment(unknown.drawn(row)) for row in z])
        with WorkerPool(os.cpu_count() or 1) as pool:
            anew = np.array(list(pool.map(partial(_built_anew, demo), z)))
        draw = np.random.default_rng(SEED)
        at = draw.integers(0, draws, (AGAIN, draws))
        ratios = [width(lines[i]) / width(anew[i]) for i in at]
        print(
            f"{demo:<32}{anew.std():>10.2f}{lines.std() / anew.std():>12.3f}"
            f"{width(lines) / width(anew):>9.3f} +- {np.std(ratios):.3f}"
            f"{np.sqrt(np.mean((lines - anew) ** 2)) / anew.std():>16.3f}",
            flush=True,
        )


@cache
def _unknown(demo: str) -> tuple[Scenario, UncertainRig, MeasurePairs]:
    scenario = read_scenario(demo_path(demo))
    rig = assembled_scenario(scenario, "").rig
    return scenario, uncertain_scenario(scenario, rig), measure_pairs(scenario, person_of_scenario(scenario))


def _built_anew(demo: str, z: np.ndarray) -> float:
    """Moment [N m] with measures, lungs, density, plate and suit as drawn, in the order of the unknowns; the rest."""
    scenario, unknown, measures = _unknown(demo)
    person, k = person_of_scenario(scenario), len(measures.pairs)
    names = [v.name for v in unknown.variates[k : k + 3]]
    assert names == ["gas in the lungs", "body density", "height of the plate"], names
    body = with_measures(pinned(scenario, person), measures.along @ z[:k])
    body = told_otherwise(body, "diver.lung_gas", person.lung_gas + LUNG_HALF_WIDTH * z[k])
    body = told_otherwise(body, "diver.body_density", person.body_density + person.density_sd * z[k + 1])
    body = told_otherwise(body, "harness.drop", told_value(scenario, "harness.drop") - PLACED / NINETY * z[k + 2])
    rest = []
    for value, unknown_one in zip(z[k + 3 :], unknown.variates[k + 3 :], strict=True):
        keys = [key for key in unknown_one.said if key.startswith("suit.")]
        for key in keys:
            said = unknown_one.said[key]
            least = -0.5 if key == "suit.vented_head_up" else 0.02 * said.value  # rad; as far as its own pair goes
            body = told_otherwise(body, key, max(said.value + said.per_spread * value, least))
        if not keys:
            rest.append((value, unknown_one))
    rig = assembled_scenario(body, "").rig
    drawn = rig_of_numbers(numbers_of(rig) + sum(a * v.numbers for a, v in rest), rig)
    stiffness, gas = (sum(a * getattr(v, what) for a, v in rest) for what in ("log_stiffness", "gas_share"))
    return _moment(with_suit(drawn, float(np.exp(stiffness)), max(1.0 + float(gas), 0.01)))


def _moment(rig: Rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


if __name__ == "__main__":
    main()
