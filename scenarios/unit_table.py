"""The units a user may write, with their factors to SI from ``scipy.constants``. Nothing else is understood.

scipy.constants takes a sixth of a second to import, so it is imported when the first value is read.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Literal

Dimension = Literal[
    "length", "mass", "volume", "pressure", "density", "temperature", "time", "age", "angle", "mass per area",
    "mass per length", "speed", "flow", "acceleration", "force", "moment", "fraction", "salinity",
]  # fmt: skip

# One value of each dimension as a user would write it, shown whenever a unit is missing.
EXAMPLES: dict[Dimension, str] = {
    "length": "166 cm", "mass": "58 kg", "volume": "12 l", "pressure": "200 bar", "density": "1025 kg/m^3",
    "temperature": "10 °C", "time": "2 s", "age": "34 years", "angle": "90 deg", "mass per area": "450 g/m^2",
    "mass per length": "70 g/m", "speed": "0.5 m/s", "acceleration": "9.81 m/s^2", "force": "20 N",
    "flow": "20 l/min", "moment": "5 N m", "fraction": "24 %", "salinity": "35 g/kg",
}  # fmt: skip


@dataclass(frozen=True)
class Unit:
    """SI value = number * factor + offset; ``names`` are the spellings, the first is the one shown."""

    dimension: Dimension
    factor: float
    names: tuple[str, ...]
    offset: float = 0.0

    @property
    def name(self) -> str:
        """The spelling shown to people."""
        return self.names[0]


@cache
def units() -> tuple[Unit, ...]:
    """All units. The base of ``age`` is the year, of ``salinity`` practical salinity (PSS-78), of ``fraction`` 1."""
    return (*_simple_units(), *_compound_units())


def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """The units of one dimension, the usual one first."""
    return tuple(u for u in units() if u.dimension == dimension)


def _simple_units() -> Iterable[Unit]:
    from scipy import constants as c

    yield Unit("length", c.centi, ("cm", "centimetre", "centimetres", "centimeter", "centimeters"))
    yield Unit("length", 1.0, ("m", "metre", "metres", "meter", "meters"))
    yield Unit("length", c.milli, ("mm", "millimetre", "millimetres", "millimeter", "millimeters"))
    yield Unit("length", c.deci, ("dm",))
    yield Unit("length", c.micron, ("um", "µm", "μm", "micron", "microns"))
    yield Unit("length", c.kilo, ("km", "kilometre", "kilometres", "kilometer", "kilometers"))
    yield Unit("length", c.foot, ("ft", "'", "foot", "feet"))
    yield Unit("length", c.inch, ("in", '"', "inch", "inches"))
    yield Unit("length", c.yard, ("yd", "yard", "yards"))

    yield Unit("mass", 1.0, ("kg", "kilo", "kilos", "kilogram", "kilograms"))
    yield Unit("mass", c.gram, ("g", "gram", "grams"))
    yield Unit("mass", c.milli * c.gram, ("mg", "milligram", "milligrams"))
    yield Unit("mass", c.metric_ton, ("t", "tonne", "tonnes"))
    yield Unit("mass", c.lb, ("lb", "lbs", "pound", "pounds"))
    yield Unit("mass", c.oz, ("oz", "ounce", "ounces"))
    yield Unit("mass", c.stone, ("st", "stone", "stones"))

    yield Unit("volume", c.liter, ("l", "L", "litre", "litres", "liter", "liters", "ltr", "dm3"))
    yield Unit("volume", c.centi * c.liter, ("cl",))
    yield Unit("volume", c.deci * c.liter, ("dl",))
    yield Unit(
        "volume", c.milli * c.liter, ("ml", "cm3", "cc", "millilitre", "millilitres", "milliliter", "milliliters")
    )
    yield Unit("volume", 1.0, ("m^3", "m3", "cubic metre", "cubic metres", "cubic meter", "cubic meters"))
    yield Unit("volume", c.milli**3, ("mm^3", "mm3"))
    yield Unit("volume", c.foot**3, ("cu ft", "cuft", "ft3", "cubic foot", "cubic feet"))
    yield Unit("volume", c.inch**3, ("cu in", "cuin", "in3", "cubic inch", "cubic inches"))
    yield Unit("volume", c.gallon_US, ("US gal", "US gallon", "US gallons"))
    yield Unit("volume", c.gallon_imp, ("imp gal", "imperial gallon", "imperial gallons"))

    yield Unit("pressure", c.bar, ("bar", "bars"))
    yield Unit("pressure", c.milli * c.bar, ("mbar", "millibar"))
    yield Unit("pressure", 1.0, ("Pa", "pascal", "pascals"))
    yield Unit("pressure", c.hecto, ("hPa",))
    yield Unit("pressure", c.kilo, ("kPa", "kilopascal"))
    yield Unit("pressure", c.mega, ("MPa", "megapascal"))
    yield Unit("pressure", c.psi, ("psi", "lbf/in2"))
    yield Unit("pressure", c.atm, ("atm", "atmosphere", "atmospheres"))
    yield Unit("pressure", c.torr, ("torr", "mmHg"))  # atm/760; the conventional mmHg is 1.4e-7 of it larger
    yield Unit("pressure", c.centi * c.kilo * c.g, ("cmH2O", "cm H2O"))  # conventional: water of 1000 kg/m^3

    yield Unit("temperature", 1.0, ("°C", "C", "degC", "deg C", "celsius"), c.zero_Celsius)
    yield Unit("temperature", 1.0, ("K", "kelvin"))
    zero_fahrenheit = c.zero_Celsius - 32.0 * c.degree_Fahrenheit
    yield Unit("temperature", c.degree_Fahrenheit, ("°F", "F", "degF", "deg F", "fahrenheit"), zero_fahrenheit)

    yield Unit("time", 1.0, ("s", "sec", "second", "seconds"))
    yield Unit("time", c.milli, ("ms", "millisecond", "milliseconds"))
    yield Unit("time", c.minute, ("min", "minute", "minutes"))
    yield Unit("time", c.hour, ("h", "hour", "hours"))
    yield Unit("time", c.day, ("d", "day", "days"))

    yield Unit("age", 1.0, ("years", "year", "yr", "yrs", "y"))
    yield Unit("age", 1.0 / 12.0, ("months", "month"))

    yield Unit("angle", c.degree, ("deg", "°", "degree", "degrees"))
    yield Unit("angle", 1.0, ("rad", "radian", "radians"))

    yield Unit("force", 1.0, ("N", "newton", "newtons"))
    yield Unit("force", c.kilo, ("kN",))
    yield Unit("force", c.kgf, ("kgf",))
    yield Unit("force", c.lbf, ("lbf",))

    yield Unit("fraction", c.centi, ("%", "percent", "per cent"))
    # Reference-Composition Salinity: 35.16504 g/kg at a practical salinity of 35 (Millero et al. 2008, TEOS-10)
    yield Unit("salinity", 35.0 / 35.16504, ("g/kg", "ppt", "‰"))
    yield Unit("salinity", 1.0, ("PSU",))


def _compound_units() -> Iterable[Unit]:
    from scipy import constants as c

    liter, ml = c.liter, c.milli * c.liter
    yield Unit("density", 1.0, _over("kg", "m", 3))
    yield Unit("density", c.gram / ml, (*_over("g", "cm", 3), "g/cc", "g/ml"))
    yield Unit("density", 1.0 / liter, ("kg/l", "kg/L", "kg/litre", "kg/liter", *_over("kg", "dm", 3)))
    yield Unit("density", c.gram / liter, ("g/l", "g/L", "g/litre", "g/liter"))
    yield Unit("density", c.lb / c.foot**3, (*_over("lb", "ft", 3), "lb/cu ft"))
    yield Unit("density", c.lb / c.inch**3, (*_over("lb", "in", 3), "lb/cu in"))
    yield Unit("mass per area", c.gram, _over("g", "m", 2))
    yield Unit("mass per area", 1.0, _over("kg", "m", 2))
    yield Unit("mass per area", c.oz / c.yard**2, _over("oz", "yd", 2))
    yield Unit("mass per area", c.lb / c.foot**2, _over("lb", "ft", 2))
    yield Unit("mass per length", c.gram, _over("g", "m"))
    yield Unit("mass per length", 1.0, _over("kg", "m"))
    yield Unit("mass per length", c.lb / c.foot, _over("lb", "ft"))
    yield Unit("speed", 1.0, _over("m", "s"))
    yield Unit("speed", c.centi, _over("cm", "s"))
    yield Unit("speed", 1.0 / c.minute, _over("m", "min"))
    yield Unit("speed", c.kmh, (*_over("km", "h"), "kmh"))
    yield Unit("speed", c.knot, ("kn", "kt", "knot", "knots"))
    yield Unit("speed", c.foot / c.minute, _over("ft", "min"))
    yield Unit("flow", liter / c.minute, ("l/min", "L/min", "litre/min", "litres/min", "liter/min", "liters/min"))
    yield Unit("flow", c.foot**3 / c.minute, ("cu ft/min", "cuft/min", "ft3/min"))
    yield Unit("flow", 1.0, _over("m^3", "s"))
    yield Unit("acceleration", 1.0, _over("m", "s", 2))
    yield Unit("acceleration", c.centi, _over("cm", "s", 2))
    yield Unit("acceleration", c.foot, _over("ft", "s", 2))
    yield Unit("moment", 1.0, _times("N", "m"))
    yield Unit("moment", c.kgf, _times("kgf", "m"))
    yield Unit("moment", c.lbf * c.foot, (*_times("lbf", "ft"), *_times("ft", "lbf")))


def _over(above: str, below: str, power: int = 1) -> tuple[str, ...]:
    """Spellings of a quotient: kg/m^3, kg/m3, kg m-3, kg m^-3."""
    if power == 1:
        return (f"{above}/{below}", f"{above} {below}^-1", f"{above} {below}-1")
    exponents = (f"{above}/{below}^{power}", f"{above}/{below}{power}")
    return (*exponents, f"{above} {below}^-{power}", f"{above} {below}-{power}")


def _times(first: str, second: str) -> tuple[str, ...]:
    """Spellings of a product: N m (which N·m and N*m are read as), Nm."""
    return (f"{first} {second}", f"{first}{second}")
