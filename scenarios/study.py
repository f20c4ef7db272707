"""The study file as written: a scenario, what is varied in it and how, and which answers are wanted.

What a factor's texts mean depends on the key they belong to, so their numbers are read where the scenario is known
(``study_reading``).
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from scenarios.quantities import found
from scenarios.table import Table

STUDY_FORMAT = "study/1"
MOST_LEVELS = 1000
MOST_ROWS = 100_000_000

DesignKind = Literal["grid", "latin hypercube", "sobol", "saltelli", "one at a time"]
OutputName = Literal[
    "trimming moment", "roll moment", "pitch stiffness", "roll stiffness", "held pitch", "rest pitch", "rest roll",
    "rest turn", "wing gas", "suit gas", "mass", "volume", "net buoyancy", "plate suits",
    "look-ahead margin", "reach margin", "shoulder strap margin",
]  # fmt: skip
OF_A_DIVER = ("plate suits", "look-ahead margin", "reach margin", "shoulder strap margin")


def _amount(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise ValueError(
            f'expected a value like "2 cm" (or a bare number where the key takes one), found {found(value)}'
        )
    return value


Amount = Annotated[str | int | float, BeforeValidator(_amount)]
Settings = Annotated[
    dict[str, Any],
    Field(description='What is changed: { plate = "small carbon", "harness.drop" = "2 cm" }, keys as for --set'),
]


class Choice(Table):
    """One of several ways to be equipped, under a name of its own."""

    name: Annotated[str, Field(description="What to call it in tables and figures", min_length=1, max_length=60)]
    set: Settings = {}  # noqa: RUF012 - pydantic copies defaults


class Lognormal(Table):
    """A spread by factors: the median times or divided by ``factor`` holds 68 % of the cases."""

    median: Annotated[Amount, Field(description='The middle value, like "600 Pa"')]
    factor: Annotated[
        float, Field(description="Geometric standard deviation, over 1: 1.5 for half as much again", gt=1.0, le=100.0)
    ]


class PeopleTable(Table):
    """People drawn from the survey's measures: height and mass of each, and every measure that goes with them."""

    sex: Annotated[Literal["female", "male", "both"], Field(description="Whom to draw")]
    women: Annotated[float, Field(description="Share of women when both are drawn, 0 to 1", ge=0.0, le=1.0)] = 0.5
    height: Annotated[
        tuple[Amount, Amount] | None,
        Field(description='Only people between these heights, like ["150 cm", "175 cm"]'),
    ] = None


WAYS = ("choices", "values", "range", "uniform", "normal", "lognormal", "triangular", "people")


class Factor(Table):
    """One thing that is varied, in one of eight ways."""

    name: Annotated[
        str | None, Field(description="What to call it in tables and figures; the key if left out", max_length=60)
    ] = None
    key: Annotated[
        str | None, Field(description='What is varied, as for --set: "harness.drop", "lead.0.mass", "plate"')
    ] = None
    choices: Annotated[
        tuple[Any, ...] | None,
        Field(description="Entries or words to choose from, or tables { name, set } that change several keys"),
    ] = None
    values: Annotated[tuple[Amount, ...] | None, Field(description="A list of numbers, each tried")] = None
    range: Annotated[
        tuple[Amount, Amount] | None,
        Field(description="Least and most: evenly spaced levels in a grid, evenly spread where it is drawn"),
    ] = None
    levels: Annotated[
        int | None, Field(description="How many levels of a range a grid has (5)", ge=2, le=MOST_LEVELS)
    ] = None
    uniform: Annotated[tuple[Amount, Amount] | None, Field(description="Drawn evenly between two values")] = None
    normal: Annotated[str | None, Field(description='Mean and standard deviation, like "150 +- 30 bar"')] = None
    lognormal: Annotated[Lognormal | None, Field(description="Median and geometric standard deviation")] = None
    triangular: Annotated[tuple[Amount, Amount, Amount] | None, Field(description="Least, likeliest and most")] = None
    people: Annotated[PeopleTable | None, Field(description="The diver is drawn from a population")] = None
    least: Annotated[Amount | None, Field(description="Where a normal or lognormal spread is cut off below")] = None
    most: Annotated[Amount | None, Field(description="Where a normal or lognormal spread is cut off above")] = None

    @property
    def way(self) -> str:
        """Which of the eight ways it is varied in."""
        return next(w for w in WAYS if getattr(self, w) is not None)

    @property
    def title(self) -> str:
        """What to call it."""
        return self.name or self.key or ("person" if self.people is not None else "")

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        given = [w for w in WAYS if getattr(self, w) is not None]
        if len(given) != 1:
            what = " and ".join(given) if given else "nothing"
            raise ValueError(f"a factor is varied in one way; found {what}; give one of: {', '.join(WAYS)}")
        bundled = self.choices is not None and all(isinstance(c, dict) and "set" in c for c in self.choices)
        if self.key is None and not bundled and self.people is None:
            raise ValueError('say what is varied: key = "harness.drop", or choices that are tables { name, set }')
        if not self.title:
            raise ValueError('choices that set several keys need a name beside them, like name = "cylinders"')
        if self.levels is not None and self.range is None:
            raise ValueError("levels belongs to a range; leave it out")
        if (self.least is not None or self.most is not None) and self.way not in ("normal", "lognormal"):
            raise ValueError("least and most cut off a normal or lognormal spread; leave them out")
        for way in ("choices", "values"):
            if (members := getattr(self, way)) is not None and not 1 <= len(members) <= MOST_LEVELS:
                raise ValueError(f"{way} holds {len(members)} entries; 1 to {MOST_LEVELS} can be tried")
        return self


class Correlation(Table):
    """Two factors that go together."""

    between: Annotated[tuple[str, str], Field(description="Names (or keys) of two factors that are drawn")]
    value: Annotated[float, Field(description="Correlation of their normal scores, -0.99 to 0.99", ge=-0.99, le=0.99)]


class Design(Table):
    """Which combinations are tried."""

    kind: Annotated[
        DesignKind,
        Field(description='"grid": all combinations; "latin hypercube" and "sobol": drawn evenly; "saltelli": drawn '
              'for Sobol\' indices; "one at a time": each factor alone, the rest as in the scenario'),
    ]  # fmt: skip
    number: Annotated[
        int | None,
        Field(description="How many are drawn; for saltelli, how many times factors + 2", ge=1, le=MOST_ROWS),
    ] = None
    seed: Annotated[
        int, Field(description="Any whole number; the same seed gives the same study", ge=0, le=2**63)
    ] = 1


class Study(Table):
    """All of a study file."""

    format: Annotated[Literal["study/1"], Field(description="Kind of file")]
    title: Annotated[str | None, Field(description="A line for reports and figures", max_length=120)] = None
    base: Annotated[
        str | dict[str, Any],
        Field(description="The scenario or parts file that is varied (path from the study file), or its tables"),
    ]
    set: Settings = {}  # noqa: RUF012 - pydantic copies defaults
    design: Annotated[Design, Field(description="Which combinations are tried")]
    outputs: Annotated[tuple[OutputName, ...], Field(description="The answers wanted", min_length=1)]
    factor: Annotated[tuple[Factor, ...], Field(description="What is varied", min_length=1, max_length=100)]
    correlation: Annotated[tuple[Correlation, ...], Field(description="Factors that go together")] = ()
