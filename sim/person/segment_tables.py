"""Mass, centre of mass and radii of gyration of body segments, as published.

de Leva 1996, J Biomech 29(9):1223-1230, Table 4 (Zatsiorsky-Seluyanov adjusted to joint centres): 100 young men
(mean 1.741 m, 73.0 kg) and 15 young women (1.735 m, 61.9 kg). The table is ``data/de_leva_1996.csv``, checked
against four transcriptions; the female hand's r_sag is 0.531 and the female shank's length 0.4323 m.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from sim.person.measures import Sex

REFERENCE_STATURE: Final = {"male": 1.741, "female": 1.735}  # m, de Leva's mean subjects
REFERENCE_MASS: Final = {"male": 73.0, "female": 61.9}  # kg


@dataclass(frozen=True)
class SegmentRow:
    """One row of de Leva's table.

    ends : the two end points, e.g. "HJC-KJC";  mass : fraction of body mass
    length : of the mean subject's segment [m];  cm : distance of the CM from the first end / length
    r_sagittal, r_transverse, r_longitudinal : radii of gyration about the CM / length, about the front-to-back,
        left-to-right and long axes
    """

    ends: str
    mass: float
    length: float
    cm: float
    r_sagittal: float
    r_transverse: float
    r_longitudinal: float


@cache
def de_leva_table() -> dict[tuple[str, Sex], SegmentRow]:
    """All rows by (name, sex); names ending in a digit are the table's alternative end points."""
    text = files("sim.person").joinpath("data/de_leva_1996.csv").read_text(encoding="utf-8")
    sexes: dict[str, Sex] = {"M": "male", "F": "female"}
    table: dict[tuple[str, Sex], SegmentRow] = {}
    for row in csv.DictReader(text.splitlines()):
        table[row["segment"], sexes[row["sex"]]] = SegmentRow(
            row["ends"],
            float(row["mass"]),
            float(row["len_m"]),
            float(row["cm"]),
            float(row["r_sag"]),
            float(row["r_tra"]),
            float(row["r_lon"]),
        )
    return table
