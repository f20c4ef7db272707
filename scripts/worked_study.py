"""A study worked through, to be read from the top and run as it stands:

    .venv/bin/python scripts/worked_study.py [folder]

How much do the height of the rig and the gas in the suit move the small woman's trimming moment? Every step but the
first is one line of Python; a study of your own needs another file only. Results stay in the folder, so that the same
command goes on where it was stopped.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

import setup_env

DEMO = (setup_env.ROOT / setup_env.DEMO).as_posix()
STUDY = f"""
format = "study/1"
title = "height of the rig and gas in the suit"
base = "{DEMO}"
outputs = ["trimming moment", "pitch stiffness", "wing gas"]

[design]
kind = "grid"

[[factor]]
key = "harness.drop"
values = ["-2 cm", "1 cm", "4 cm"]

[[factor]]
key = "suit.gas"
values = ["5 l", "7 l"]
"""


def main(folder: Path) -> dict[str, Any]:
    """Run the study in ``folder`` and print what came of it; the tables, for whoever imports this."""
    import polars

    from sim.answers.study.crew import processes
    from sim.answers.study.effects import effects
    from sim.answers.study.folder import opened
    from sim.answers.study.from_file import job_from_file
    from sim.answers.study.results import results
    from sim.answers.study.run import estimated, run
    from sim.telling.caution import CAUTION
    from sim.telling.record import as_json

    # 1. A study is a file: a base scenario, what to vary, how, and what to ask.
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "study.toml"
    file.write_text(STUDY, encoding="utf-8")
    job = job_from_file(file)
    print(f"{job.title}: {job.plan.rows} rows\n")

    # 2. Work out the rows that are not there yet, on all cores; each block of rows is written whole.
    with opened(folder / "rows-of-it", job), processes() as crew:
        left = estimated(job, folder / "rows-of-it", crew)
        if left.rows:
            run(job, folder / "rows-of-it", crew, left.block)

    # 3. Read them as a polars table: one row a rig, units in ``found.units``.
    found = results(folder / "rows-of-it")
    table = found.table
    print(table, "\n")

    # 4. How far does each input alone move the moment?
    change = polars.DataFrame([as_json(effect) for effect in effects(found)])
    print(change.select("output", "input", "mean", "greatest"), "\n")

    # 5. From here it is polars: the moment by drop, mean over the suit's gas.
    drop = found.inputs[0].columns[0]
    by_drop = table.group_by(drop).agg(polars.col("trimming_moment_nm").mean()).sort(drop)
    print(by_drop, f"\n\n{CAUTION}")
    return {"table": table, "effects": change, "by_drop": by_drop, "units": found.units}


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as there:
            main(Path(there))
