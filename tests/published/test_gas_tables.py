"""Densities of breathing gases at 20 C, computed elsewhere with CoolProp 8.0.0 (Lemmon 2000 for air, Schmidt and
Wagner 1985 for oxygen, Span 2000 for nitrogen, Ortiz-Vega for helium, Kunz and Wagner 2012 for mixtures)."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from sim.breathing_gas import AIR, fill_mass, gas_density, mixture, molar_mass

TABLES = Path(__file__).parent / "tables"
ROWS = list(csv.DictReader((TABLES / "gas_density_coolprop.csv").read_text(encoding="utf-8").splitlines()))
FILLS = list(csv.DictReader((TABLES / "fill_masses_coolprop.csv").read_text(encoding="utf-8").splitlines()))
GASES = {
    "Air": AIR,
    "Oxygen": mixture(1.0),
    "Nitrogen": mixture(0.0),
    "Helium": mixture(0.0, 1.0),
    "EAN32": mixture(0.32),
    "EAN36": mixture(0.36),
    "EAN50": mixture(0.50),
    "EAN80": mixture(0.80),
    "Tx21/35": mixture(0.21, 0.35),
    "Tx18/45": mixture(0.18, 0.45),
    "Tx15/55": mixture(0.15, 0.55),
    "Tx10/70": mixture(0.10, 0.70),
    "Heliox21": mixture(0.21, 0.79),
}
# GERG-2008 here, a newer equation for each pure gas there: 0.3 % at 300 bar. Helium with oxygen and no nitrogen
# rests on no measurements in either; the two equations part by 1.1 %.
MODEL, HELIOX = 3.5e-3, 1.2e-2
# Half the last digit and 0.0001 g/mol between editions of the atomic weights; the table's air is 0.007 heavier than
# the sum of its own three gases, which stands for the CO2.
ATOMIC, AIR_MASS = 1.5e-4, 7.1e-3


def test_table_is_whole():
    assert [r["gas"] for r in ROWS] == list(GASES)
    assert len(FILLS) == 10


@pytest.mark.parametrize("row", ROWS, ids=lambda r: r["gas"])
def test_molar_mass(row):
    got = molar_mass(GASES[row["gas"]]) * 1e3
    assert got == pytest.approx(
        float(row["molar_mass[g/mol]"]), abs=AIR_MASS if row["gas"] == "Air" else ATOMIC, rel=0.0
    )


@pytest.mark.parametrize("bar", [1, 50, 100, 200, 232, 300])
@pytest.mark.parametrize("row", ROWS, ids=lambda r: r["gas"])
def test_density(row, bar):
    printed = row[f"{bar}bar[kg/m^3]"]
    got = gas_density(GASES[row["gas"]], bar * 1e5, 293.15)
    rounding = 0.5 * 10.0 ** Decimal(printed).as_tuple().exponent
    model = HELIOX if row["gas"] == "Heliox21" else MODEL
    assert got == pytest.approx(float(printed), abs=rounding + model * float(printed), rel=0.0)


@pytest.mark.parametrize("row", FILLS, ids=lambda r: " ".join(list(r.values())[:3]))
def test_mass_of_a_fill_at_gauge_pressure(row):
    gas = AIR if row["gas"] == "air" else GASES[row["gas"]]
    capacity, full = float(row["water_capacity[l]"]) * 1e-3, float(row["gauge_pressure[bar]"])
    for gauge, column in ((full, "full[kg]"), (50.0, "at_50_bar_gauge[kg]")):
        printed = float(row[column])
        got = fill_mass(gas, capacity, gauge * 1e5 + 101325.0, 293.15)
        assert got == pytest.approx(printed, abs=0.5e-3 + MODEL * printed, rel=0.0)
