"""Densities of water and breathing gas."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from sim.answers.evidence.check import Check, Compared, near, table
from sim.breathing_gas import AIR, Gas, fill_mass, gas_density, mixture
from sim.water import density

IPTS_68: Final = 1.00024  # t68 / t90
# TEOS-10 is a newer standard than EOS-80: they part by 0.0024 kg/m^3 at the surface and by 0.017 at 1000 bar
EOS_SURFACE, EOS_DEEP = 0.003, 0.018
# GERG-2008 here, a newer equation for each pure gas there: 0.3 % at 300 bar; helium with oxygen alone, which no
# measurements stand behind in either, 1.1 %
GAS_MODEL, HELIOX_MODEL = 0.0035, 0.012
ROOM: Final = 293.15  # K
GASES: Final = {
    "Air": AIR, "air": AIR, "Oxygen": mixture(1.0), "Nitrogen": mixture(0.0), "Helium": mixture(0.0, 1.0),
    "EAN32": mixture(0.32), "EAN36": mixture(0.36), "EAN50": mixture(0.50), "EAN80": mixture(0.80),
    "Tx21/35": mixture(0.21, 0.35), "Tx18/45": mixture(0.18, 0.45), "Tx15/55": mixture(0.15, 0.55),
    "Tx10/70": mixture(0.10, 0.70), "Heliox21": mixture(0.21, 0.79),
}  # fmt: skip
PRESSURES: Final = (1, 50, 100, 200, 232, 300)  # bar, absolute


def checks() -> tuple[Check, ...]:
    coolprop = "CoolProp 8.0.0: Lemmon 2000, Schmidt & Wagner 1985, Span 2000, Kunz & Wagner 2012"
    unesco = "Fofonoff & Millard 1983, UNESCO 44, p. 19 (EOS-80)"
    return (
        Check("Water", "sea and fresh water at the surface", unesco, "published", "kg/m³", 3, _eos_surface),
        Check("Water", "sea and fresh water at 1000 bar", unesco, "published", "kg/m³", 2, _eos_deep),
        Check(
            "Water", "TEOS-10 from 0 to 1000 bar", "gsw 3.6.23", "computed elsewhere", "kg/m³", 6, _teos,
            doubt="the library in use, so this guards how it is called",
        ),
        Check("Water", "fresh water, 4 to 25 °C", "IAPWS-95", "computed elsewhere", "kg/m³", 3, _fresh),
        Check("Breathing gas", "12 gases, 1 to 300 bar, 20 °C", coolprop, "computed elsewhere", "kg/m³", 2, _gases),
        Check(
            "Breathing gas", "heliox 21/79, 1 to 300 bar", coolprop, "computed elsewhere", "kg/m³", 2, _heliox,
            doubt="no measurements stand behind helium with oxygen alone",
        ),
        Check(
            "Breathing gas", "gas in full and nearly empty cylinders", coolprop, "computed elsewhere", "kg", 3,
            _fills,
        ),
    )  # fmt: skip


def _eos(bar: str) -> Iterator[tuple[dict[str, str], float, float]]:
    for row in table("eos80_unesco44"):
        if row["pressure[bar gauge]"] == bar:
            kelvin = float(row["temperature[C IPTS-68]"]) / IPTS_68 + 273.15
            ours = density(float(row["salinity[PSS-78]"]), kelvin, float(bar) * 1e5)
            yield row, ours, float(row["density[kg/m^3]"])


def _eos_case(row: dict[str, str]) -> str:
    return f"salinity {row['salinity[PSS-78]']}, {row['temperature[C IPTS-68]']} °C"


def _eos_surface() -> list[Compared]:
    return [near(ours, theirs, EOS_SURFACE, _eos_case(row)) for row, ours, theirs in _eos("0")]


def _eos_deep() -> list[Compared]:
    return [near(ours, theirs, EOS_DEEP, _eos_case(row)) for row, ours, theirs in _eos("1000")]


def _teos() -> list[Compared]:
    found = []
    for row in table("teos10_gsw"):
        salinity, celsius, dbar = (float(row[k]) for k in list(row)[:3])
        ours = density(salinity, celsius + 273.15, dbar * 1e4)
        case = f"salinity {salinity:g}, {celsius:g} °C, {dbar:g} dbar"
        found.append(near(ours, float(row["density[kg/m^3]"]), 0.5e-6, case))
    return found


def _fresh() -> list[Compared]:
    # IAPWS-09, which TEOS-10 uses for pure water, follows IAPWS-95 to 0.001 kg/m^3 at the surface
    rows = [(float(r["temperature[C]"]), float(r["density[kg/m^3]"])) for r in table("fresh_water_iapws95")]
    return [near(density(0.0, c + 273.15), theirs, 1e-3, f"{c:g} °C") for c, theirs in rows]


def _gas_cases(row: dict[str, str], model: float) -> Iterator[Compared]:
    for bar in PRESSURES:
        printed = row[f"{bar}bar[kg/m^3]"]
        rounding = 0.5 * 10.0 ** int(Decimal(printed).as_tuple().exponent)
        ours = gas_density(GASES[row["gas"]], bar * 1e5, ROOM)
        yield near(ours, float(printed), rounding + model * float(printed), f"{row['gas']}, {bar} bar")


def _gases() -> list[Compared]:
    return [c for r in table("gas_density_coolprop") if r["gas"] != "Heliox21" for c in _gas_cases(r, GAS_MODEL)]


def _heliox() -> list[Compared]:
    return [c for r in table("gas_density_coolprop") if r["gas"] == "Heliox21" for c in _gas_cases(r, HELIOX_MODEL)]


def _fills() -> list[Compared]:
    found = []
    for row in table("fill_masses_coolprop"):
        gas: Gas = GASES[row["gas"]]
        litres, full = float(row["water_capacity[l]"]), float(row["gauge_pressure[bar]"])
        for gauge, column in ((full, "full[kg]"), (50.0, "at_50_bar_gauge[kg]")):
            theirs = float(row[column])
            ours = fill_mass(gas, litres * 1e-3, gauge * 1e5 + 101325.0, ROOM)
            found.append(
                near(ours, theirs, 0.5e-3 + GAS_MODEL * theirs, f"{row['gas']}, {litres:g} l, {gauge:g} bar")
            )
    return found
