"""How far rigs expanded over a population are from rigs built in full, and how much quicker; some minutes:

    .venv/bin/python scripts/population_error.py

The errors are of people left out, each in turn, against bodies and gear built as meshes. Times are processor seconds.
"""

from __future__ import annotations

import time

from scenarios.demos import demo_path
from scenarios.reading import read_scenario
from sim.person.measures import Sex
from sim.population_rigs.gear_choice import built_people, gear_choice, spread_people

DEMOS = ("small-woman-carbon", "single-wetsuit")
SEXES: tuple[Sex, ...] = ("female", "male")
MANY = 2000


def main() -> None:
    print(f"{'':<28}{'moment when flat [N m]':>24}{'CM [mm]':>16}{'suit gas [ml]':>16}{'rigs a second':>16}")
    print(f"{'':<28}{'RMS':>12}{'largest':>12}{'RMS':>8}{'most':>8}{'RMS':>8}{'most':>8}{'full':>8}{'here':>8}")
    for sex in SEXES:
        for demo in DEMOS:
            _row(sex, demo)


def _row(sex: Sex, demo: str) -> None:
    scenario = read_scenario(demo_path(demo))
    started = time.process_time()
    built = built_people(sex, scenario)
    choice = gear_choice(scenario, built)
    full = len(built.wearers) / (time.process_time() - started)
    people = spread_people(sex, scenario, MANY, 5)
    started = time.process_time()
    choice.rigs(people)
    here = MANY / (time.process_time() - started)
    off = choice.error
    print(
        f"{f'{off.people} {sex}, {demo}':<28}{off.moment[0]:>12.2f}{off.moment[1]:>12.2f}"
        f"{1e3 * off.cm[0]:>8.2f}{1e3 * off.cm[1]:>8.2f}{1e6 * off.suit_gas[0]:>8.0f}{1e6 * off.suit_gas[1]:>8.0f}"
        f"{full:>8.1f}{here:>8.0f}",
        flush=True,
    )


if __name__ == "__main__":
    main()
