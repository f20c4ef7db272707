"""Body measures from sex, stature and mass, and from any others that were taken.

The model is linear and Gaussian: each measure is a line in stature and in sqrt(mass/stature), with residuals
correlated between measures. Fitted to ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): 4,082 men and 1,986 women
of the US Army, 17 to 58 years. What is given conditions the rest; what is not given keeps its spread.
All lengths in metres, mass in kg, age in years.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats

Sex = Literal["male", "female"]
Combination = tuple[tuple[float, str], ...]  # sum of factor * measure

READING_SD: Final = 0.005  # m, tape on a limb or bone length; engineering suggestion, no source
TRUNK_READING_SD: Final = 0.010  # m, landmark heights and girths of chest, waist and hips; likewise
SURFACE_READING_SD: Final = 0.015  # m, surface lengths taken on oneself; likewise
AGE_SD: Final = 0.5  # yr, an age given in whole years
# Residual SDs of civilians over the survey's: 1.0 to 1.4 in the 507 people of Heinz et al. 2003, of whom the survey's
# own 90 % bands hold 81 % and these 89 %. For a single diver; who is drawn from the survey has the survey's
CIVILIAN: Final = 1.25
IMPOSSIBLE: Final = 8.0  # SD of civilians, 10 of the survey's: a measure this far out is a slip, not a body
IMPOSSIBLE_TAIL: Final = 1e-15  # the chance of 8 SD
CONTRADICTION_TAIL: Final = 1e-4  # chi-square tail below which given measures do not belong to one person

_TRUNK = frozenset({"chestcircumference", "waistcircumference", "buttockcircumference", "shouldercircumference"})
_HEIGHTS = frozenset(
    {"cervicaleheight", "suprasternaleheight", "acromialheight", "axillaheight", "chestheight", "tenthribheight",
     "iliocristaleheight", "trochanterionheight", "buttockheight", "crotchheight", "lateralfemoralepicondyleheight",
     "tibialheight", "lateralmalleolusheight", "wristheight", "sittingheight"}
)  # fmt: skip
_SURFACE = frozenset(
    {"waistbacklength", "waistfrontlengthsitting", "interscyei", "interscyeii", "shoulderlength",
     "crotchlengthomphalion", "verticaltrunkcircumferenceusa"}
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class SexModel:
    """Coefficients of one sex for the n measures of ``MeasuresModel.names``.

    origin : stature [m] and sqrt(mass/stature) [kg^0.5 m^-0.5] at which the intercepts hold
    coefficients : (n, 3), of 1, stature and sqrt(mass/stature), the last two less the origin
    residual_sd, sd_slope : (n,); the SD is residual_sd * exp(sd_slope * clip(dq, *dq_range))
    correlation : (n, n) of the residuals
    stature_range, mass_range : least and greatest of the survey [m], [kg]
    """

    origin: tuple[float, float]
    coefficients: Floats
    residual_sd: Floats
    sd_slope: Floats
    dq_range: tuple[float, float]
    correlation: Floats
    stature_range: tuple[float, float]
    mass_range: tuple[float, float]


@dataclass(frozen=True, eq=False)
class MeasuresModel:
    """Names and labels of the n measures, and the coefficients of each sex."""

    source: str
    names: tuple[str, ...]
    labels: tuple[str, ...]
    male: SexModel
    female: SexModel


@dataclass(frozen=True)
class Beside:
    """One given value beside the others: what they let expect of it with the SD of that, reading included [m].

    surprise : how many SD it is off;  foe : of the others the one without which it would surprise least, if any
    alone : how many SD it would then be off
    """

    expected: float
    sd: float
    surprise: float
    foe: str | None
    alone: float


@dataclass(frozen=True, eq=False)
class MeasuresEstimate:
    """Measures of one person with their spread.

    names : n measures;  mean : (n,) [m], age in years;  covariance : (n, n)
    chi_square : squared Mahalanobis distance of what was given from what was expected, ``given`` degrees of freedom
    innovations : standardised surprise of each given value, by its name
    beside : by the name of each given value, what all others given say of it
    """

    names: tuple[str, ...]
    mean: Floats
    covariance: Floats
    chi_square: float
    innovations: Mapping[str, float]
    beside: Mapping[str, Beside]

    def values(self) -> dict[str, float]:
        """Mean of each measure by name."""
        return dict(zip(self.names, self.mean.tolist(), strict=True))

    def standard_deviation(self, name: str) -> float:
        """SD of one measure [m], age [yr]."""
        i = self.names.index(name)
        return float(np.sqrt(self.covariance[i, i]))


@cache
def measures_model() -> MeasuresModel:
    """The shipped model, read once."""
    data = json.loads(files("sim.person").joinpath("data/measures_model.json").read_text(encoding="utf-8"))
    n = len(data["measures"])
    lower = np.tril_indices(n, -1)

    def of_sex(s: dict[str, list[float]]) -> SexModel:
        half = np.zeros((n, n))
        half[lower] = s["resid_corr_lower"]
        ranges: dict[str, list[float]] = s["range"]  # type: ignore[assignment]
        return SexModel(
            origin=(s["x0"][0], s["x0"][1]),
            coefficients=np.array(s["coef"]),
            residual_sd=np.array(s["resid_sd"]),
            sd_slope=np.array(s["resid_sd_slope"]),
            dq_range=(s["dq_range"][0], s["dq_range"][1]),
            correlation=half + half.T + np.eye(n),
            stature_range=(ranges["stature"][0], ranges["stature"][1]),
            mass_range=(ranges["mass"][0], ranges["mass"][1]),
        )

    return MeasuresModel(
        data["source"], tuple(data["measures"]), tuple(data["labels"]), of_sex(data["male"]), of_sex(data["female"])
    )


def reading_sd(name: str) -> float:
    """SD of a measure read off a tape by a layman [m], or of a stated age [yr]."""
    if name == "age":
        return AGE_SD
    if name in _SURFACE:
        return SURFACE_READING_SD
    return TRUNK_READING_SD if name in _TRUNK or name in _HEIGHTS else READING_SD


def estimated_measures(
    sex: Sex,
    stature: float,
    mass: float,
    given: Mapping[str | Combination, float] | None = None,
    reading: Mapping[str | Combination, float] | None = None,
    *,
    widened: float = 1.0,
) -> MeasuresEstimate:
    """Mean and covariance of all measures of a person of this sex, stature [m] and mass [kg].

    given : measures taken [m], age [yr]; a key is a measure's name or a linear combination ((factor, name), ...)
    reading : SD of a reading by the same key; ``reading_sd`` where absent
    widened : factor on the survey's residual SDs, for people of another population
    Raises ValueError for an unknown measure or a value that is not a finite number.
    """
    model = measures_model()
    of_sex = model.male if sex == "male" else model.female
    means, sds = expected_measures(sex, np.array([stature]), np.array([mass]))
    mean, sd = means[0], widened * sds[0]
    covariance = of_sex.correlation * np.outer(sd, sd)
    if not given:
        return MeasuresEstimate(model.names, mean, covariance, 0.0, {}, {})
    keys = list(given)
    values = np.array([given[k] for k in keys], dtype=float)
    if not np.isfinite(values).all():
        bad = _label(keys[int(np.argmin(np.isfinite(values)))])
        raise ValueError(f"the measure '{bad}' is not a finite number")
    select = np.array([_row(k, model.names) for k in keys])
    noise = np.array([_noise(k, reading or {}) for k in keys])
    surprise = values - select @ mean
    spread = select @ covariance @ select.T + np.diag(noise**2)
    precision = np.linalg.inv(spread)
    gain = (precision @ select @ covariance).T
    posterior = covariance - gain @ select @ covariance
    standardised = surprise / np.sqrt(np.diag(spread))
    return MeasuresEstimate(
        model.names,
        mean + gain @ surprise,
        0.5 * (posterior + posterior.T),
        float(surprise @ precision @ surprise),
        {_label(k): float(z) for k, z in zip(keys, standardised, strict=True)},
        _beside(keys, values, surprise, precision),
    )


def expected_measures(sex: Sex, stature: Floats, mass: Floats) -> tuple[Floats, Floats]:
    """Mean and SD (p, n) of the n measures of p people of statures [m] and masses [kg] (p,), as in the survey."""
    model = measures_model()
    of_sex = model.male if sex == "male" else model.female
    tall = (stature - of_sex.origin[0])[:, None]
    dq = (np.sqrt(mass / stature) - of_sex.origin[1])[:, None]
    start, by_stature, by_build = of_sex.coefficients.T
    sd = of_sex.residual_sd * np.exp(of_sex.sd_slope * np.clip(dq, *of_sex.dq_range))
    return start + by_stature * tall + by_build * dq, sd


def _beside(
    keys: Sequence[str | Combination], values: Floats, surprise: Floats, precision: Floats
) -> dict[str, Beside]:
    """Each given value beside the others, from the precision (k, k) of all of them before any was known."""
    own, pull = np.diag(precision), precision @ surprise
    sd, z = 1.0 / np.sqrt(own), pull / np.sqrt(own)
    # one value without another: the latter's row and column are taken out of the precision
    with np.errstate(divide="ignore", invalid="ignore"):
        less = own[:, None] - precision**2 / own
        left = np.abs(pull[:, None] - precision * (pull / own)) / np.sqrt(less)
    np.fill_diagonal(left, np.inf)
    foe = np.argmin(left, axis=1)
    return {
        _label(k): Beside(
            float(values[i] - pull[i] / own[i]), float(sd[i]), float(z[i]),
            _label(keys[foe[i]]) if len(keys) > 1 else None, float(left[i, foe[i]] if len(keys) > 1 else abs(z[i])),
        )
        for i, k in enumerate(keys)
    }  # fmt: skip


def contradiction(estimate: MeasuresEstimate) -> str | None:
    """A sentence naming the least likely of the given measures, or None when they may belong to one person.

    Chi-square test of all given values together at a tail of 1e-4 (about one person in ten thousand). Age is no
    measure that could be wrong, only rare among soldiers: its own part is taken off, which leaves the chi-square of
    the measures of a person of that age.
    """
    surprises = {k: z for k, z in estimate.innovations.items() if k != "age"}
    tail = _tail(estimate)
    if tail >= CONTRADICTION_TAIL:
        return None
    worst = max(surprises, key=lambda k: abs(surprises[k]))
    z = surprises[worst]
    side = "larger" if z > 0.0 else "smaller"
    return (
        f"the measures given hardly belong to one person of this stature and mass (chance {tail:.0e}): "
        f"'{worst}' is {abs(z):.1f} SD {side} than expected; {_believable(estimate.beside[worst])} would be "
        "believable beside the others: check them, their units and where they were taken"
    )


def impossibility(estimate: MeasuresEstimate, given: Mapping[str, float], *, built: bool = True) -> str | None:
    """A sentence naming the given measures [m] that no one person has and what would be believable, or None.

    No measure may be 8 SD from what all others given let expect of it, nor all together as unlikely as that, nor
    such that no body could be ``built``.
    """
    beside = {name: b for name, b in estimate.beside.items() if name != "age"}
    if not beside:
        return None
    worst = max(beside, key=lambda name: abs(beside[name].surprise))
    here = beside[worst]
    if built and abs(here.surprise) < IMPOSSIBLE and _tail(estimate) >= IMPOSSIBLE_TAIL:
        return None
    foe = here.foe
    if foe in beside and here.alone < 0.5 * abs(here.surprise):
        return (
            f"{_told(worst, given)} and {_told(foe, given)} do not belong together: beside all else that is given, "
            f"{_believable(here)} would be believable of the one or {_believable(beside[foe])} of the other; "
            "check both, their units and where they were taken"
        )
    return (
        f"{_told(worst, given)} does not belong with height, mass and what else is given: {_believable(here)} would "
        "be believable; check them, their units and where they were taken"
    )


def _told(name: str, given: Mapping[str, float]) -> str:
    return f"'{name}' = {given[name]:.4g} m"


def _believable(beside: Beside) -> str:
    """Within 3 SD: all but one person in 370."""
    low, high = (beside.expected + side * 3.0 * beside.sd for side in (-1.0, 1.0))
    return f"{max(low, 0.0):.3f} to {high:.3f} m"


def _tail(estimate: MeasuresEstimate) -> float:
    """Chance that the measures of one person, whose age is what it is, lie as far off together."""
    from scipy.special import chdtrc

    number = len(estimate.innovations) - ("age" in estimate.innovations)
    if number == 0:
        return 1.0
    left = estimate.chi_square - estimate.innovations.get("age", 0.0) ** 2
    return float(chdtrc(number, max(left, 0.0)))  # nil but for rounding where all are just as expected


def _row(key: str | Combination, names: tuple[str, ...]) -> Floats:
    row = np.zeros(len(names))
    for factor, name in ((1.0, key),) if isinstance(key, str) else key:
        if name not in names:
            raise ValueError(f"'{name}' is not a measure of the model; known are {', '.join(names)}")
        row[names.index(name)] += factor
    return row


def _noise(key: str | Combination, reading: Mapping[str | Combination, float]) -> float:
    if key in reading:
        sd = float(reading[key])
    else:
        sd = reading_sd(key) if isinstance(key, str) else TRUNK_READING_SD
    if not sd > 0.0:
        raise ValueError(f"the reading SD of '{_label(key)}' must be > 0, got {sd}")
    return sd


def _label(key: str | Combination) -> str:
    if isinstance(key, str):
        return key
    return " ".join(f"{'+' if f >= 0 else '-'} {'' if abs(f) == 1.0 else f'{abs(f):g} '}{n}" for f, n in key)
