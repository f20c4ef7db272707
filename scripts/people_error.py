"""How right `hangflat plate --people` is: of many people guessed, some that the guess never saw, worked out in full.

    python3 scripts/people_error.py --people 10000 --others 500

Prints for each plate how many of the others were told rightly, and their shares worked out in full beside the shares
of all as told, with the 90 % bands of both. --write stores them for the evidence.
"""

from __future__ import annotations

import argparse
import csv
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

TABLE = ROOT / "sim/answers/evidence/stored/plate_people.csv"
SEED = 1
NAMES = ("told", "told_low", "told_high", "full", "full_low", "full_high")
PLATES = ("small steel", "standard steel", "standard aluminium")


def main(words: Sequence[str] | None = None) -> None:
    read = argparse.ArgumentParser(description=(__doc__ or "").split("\n", 1)[0])
    read.add_argument("--people", type=int, default=10_000, help="of each sex, as behind --people")
    read.add_argument("--others", type=int, default=500, help="worked out in full beyond those that the guess knows")
    read.add_argument("--write", action="store_true", help=f"store the shares in {TABLE.relative_to(ROOT)}")
    asked = read.parse_args(words)
    from sim.answers.fit.fitted_people import SEXES
    from sim.answers.plate.bench import bench_plate
    from sim.answers.plate.laid import laid, laid_beside, wearing
    from sim.answers.plate.suits.known import PASSES
    from sim.answers.plate.suits.run import IN_FULL, drawn_suited, in_full, rigs_of
    from sim.person.population import many_drawn
    from sim.telling.share_band import share_band

    bench = bench_plate(PLATES[0])
    case = wearing(bench)
    plates = (laid(case, bench), *laid_beside(case, PLATES[1:]))
    start = time.perf_counter()
    found = drawn_suited(plates, asked.people)
    print(f"{2 * asked.people} people and {len(plates)} plates in {time.perf_counter() - start:.1f} s. {found.how}")
    rigs, dress = rigs_of(plates)
    # in the order of the answer: those in full, then the women guessed, then the men
    # at random: they are a quasi-random sequence, of which every 39th is no fair sample (as guessed, 66 % of 250 such
    # women pass beside 58 % of all: 2.7 times what a random sample is off by)
    picks = np.random.default_rng(SEED).choice(asked.people - IN_FULL, asked.others // 2, replace=False)
    rows = {sex: np.flatnonzero((found.sex == sex) & ~found.in_full)[picks] for sex in SEXES}
    people = [many_drawn(sex, asked.people).person(IN_FULL + int(i)) for sex in SEXES for i in picks]
    full = in_full(rigs, dress, people, None)
    stored = []
    sexes = np.repeat(list(SEXES), len(picks))
    for number, plate in enumerate(found.plates):
        guess = np.concatenate([found.outcomes[number][rows[sex]] for sex in SEXES])
        built = np.array([one is not None for one in full])
        truth = np.array([one.plates[number].outcome if one else "" for one in full])
        passing, right = ((truth == PASSES) == (guess == PASSES))[built].mean(), (truth == guess)[built].mean()
        rightly = f"{100 * passing:.1f} % told rightly whether it passes, {100 * right:.1f} % how it ends"
        print(f"{plate}: of {built.sum()} others {rightly}")
        for sex in SEXES:
            own = built & (sexes == sex)
            low, high = share_band(int((truth[own] == PASSES).sum()), int(own.sum()))
            told = found.shares[number][sex][PASSES]
            theirs = f"{100 * (truth[own] == PASSES).mean():.1f} % ({100 * low:.1f} to {100 * high:.1f})"
            ours = f"{100 * told.share:.1f} % ({100 * told.low:.1f} to {100 * told.high:.1f})"
            print(f"  {sex}: passes {theirs} of them, told {ours} of all")
            shares = (told.share, told.low, told.high, (truth[own] == PASSES).mean(), low, high)
            stored.append([plate, sex, *(f"{100 * share:.1f}" for share in shares)])
    if asked.write:
        with TABLE.open("w", newline="", encoding="utf-8") as out:
            heads = ["plate", "sex", *(f"{name}[%]" for name in NAMES)]
            csv.writer(out, lineterminator="\n").writerows([heads, *stored])


if __name__ == "__main__":
    main()
