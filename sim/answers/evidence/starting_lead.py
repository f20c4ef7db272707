"""The trade's table of starting lead beside what ``hangflat weigh`` makes of the same divers.

Two tables with one ancestor: in the sea, with one cylinder, a share of the body's mass and so much more by the suit.
They say nothing of the cylinder's metal, the plate, the sex: one of aluminium on an aluminium plate is taken, as is
usual where these tables are used (common practice), a woman of 60 kg and men of 80 and 100 kg.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Final

from scenarios.by_key import told_otherwise
from scenarios.models import Scenario
from scenarios.new_scenario import NewScenario, new_scenario_text
from scenarios.reading import scenario_of
from sim.answers.evidence.check import Check, Compared, Theme, near, table, within
from sim.answers.weigh.weighing import weighed_lead

THEME: Final[Theme] = "The whole against practice"
SOURCE: Final = "trade tables of starting lead, two with one ancestor"
PEOPLE: Final = (("female", "167 cm", "60 kg"), ("male", "180 cm", "80 kg"), ("male", "186 cm", "100 kg"))
CYLINDER, PLATE = "aluminium 11.1 l 207 bar", "standard aluminium"
# kg more in the sea than in fresh water by the diver's mass, from the same tables; given in steps of half a kilogram
FRESH_TO_SEA: Final = ((60.0, 2.3), (80.0, 3.0))
STEP: Final = 0.5
DOUBT: Final = (
    "aluminium 11.1 l, aluminium plate; neutral at 4 m and 50 bar, wing empty; the padded jackets worn where these "
    "tables are used float by 1 to 2 kg more (from memory)"
)


def checks() -> tuple[Check, ...]:
    rows = [
        Check(
            THEME, f"starting lead, {mass}, {_named(row)}", SOURCE, "common practice", "kg", 1,
            lambda row=row, who=(sex, height, mass): _starting(row, who), DOUBT,  # type: ignore[misc]
        )
        for row in table("starting_lead")
        for sex, height, mass in PEOPLE
    ]  # fmt: skip
    return (
        *rows,
        Check(THEME, "fresh to sea, more lead (60, 80 kg)", SOURCE, "common practice", "kg", 1, _fresh_to_sea,
              "trilaminate, heavy undergarment"),
    )  # fmt: skip


def _named(row: dict[str, str]) -> str:
    return row["suit"] + (f", {row['undergarment']}" if row["undergarment"] else "")


@cache
def lead(sex: str, height: str, mass: str, suit: str, undergarment: str, water: str = "sea") -> float:
    """Lead [kg] of a person in a suit, as weighed."""
    told = NewScenario(sex, height, mass, suit=suit, count="one", cylinders=CYLINDER, plate=PLATE)
    told = replace(told, undergarment=undergarment) if undergarment else told
    scenario: Scenario = scenario_of(tomllib.loads(new_scenario_text(told)))
    return weighed_lead(told_otherwise(scenario, "water.kind", water))


def _starting(row: dict[str, str], who: tuple[str, str, str]) -> Sequence[Compared]:
    share = float(row["share_of_body_mass[-]"]) * float(who[2].split()[0])
    ours = lead(*who, row["suit"], row["undergarment"])
    return [within(ours, share + float(row["more_from[kg]"]), share + float(row["more_to[kg]"]))]


def _fresh_to_sea() -> Sequence[Compared]:
    found = []
    for who, (kilograms, more) in zip(PEOPLE, FRESH_TO_SEA, strict=False):
        sea, fresh = (lead(*who, "trilaminate", "heavy", water) for water in ("sea", "fresh"))
        found.append(near(sea - fresh, more, 0.5 * STEP, f"{kilograms:g} kg"))
    return found
