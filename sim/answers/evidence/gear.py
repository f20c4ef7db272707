"""Cylinders, plates and neoprene."""

from __future__ import annotations

from typing import Final

from scipy.constants import atm, bar, inch, lb

from meshes.gear.cylinder import Cylinder, cylinder
from meshes.plate.back_plate import plate_of
from meshes.plate.catalogue import standard_plate_shape
from sim.answers.evidence.check import Check, Compared, near, table, within
from sim.foam import gas_share, thickness_ratio

SEA_WATER: Final = 1025.0  # kg/m^3, what such tables take
MASS_SPREAD: Final = 0.08  # the spread of the steel's strength (880 to 1030 MPa) alone moves the mass by 8 %
LENGTH_SPREAD: Final = 0.04  # diameters are good to 1 %, lengths thus to 2 %; the shape of the ends does the rest
DEPTHS: Final = (0, 5, 10, 15, 20, 30, 40, 60)  # m
# The trade's rule has one digit: half of it either way. Thickness [m] and density [kg/m^3] are the usual ones
PLATES: Final = {
    "steel": (0.003, 8000.0, 2.5, 3.5, 3.0),
    "aluminium": (0.0032, 2700.0, 0.5, 1.5, 1.0),
    "carbon": (0.002, 1550.0, 0.25, 0.35, 0.3),
}


def checks() -> tuple[Check, ...]:
    textbook = "cylinder table of a training textbook, the 8 rows that agree with themselves"
    trade = "cylinders as sold, bare, from memory"
    rule = "a usual plate weighs 3, 1 or 0.3 kg in steel, aluminium or carbon"
    foam = "the same formula solved by a root finder"
    return (
        Check("Gear", "cylinder's lift when empty, as weighed", textbook, "published", "kg", 2, _textbook_lift),
        Check(
            "Gear", "cylinder's length by volume, diameter, mass", textbook, "published", "mm", 0, _textbook_length,
        ),
        Check("Gear", "cylinder's mass from wall formula", trade, "memory", "kg", 1, _trade_mass),
        Check("Gear", "cylinder's length from wall formula", trade, "memory", "mm", 0, _trade_length),
        *(
            Check("Gear", f"{name} plate", rule, "common practice", "kg", 2, lambda name=name: _plate(name))  # type: ignore[misc]
            for name in PLATES
        ),
        Check("Gear", "neoprene's thickness to 60 m", foam, "computed elsewhere", "", 3, _foam),
        Check(
            "Gear", "wetsuit foam halved at about 15 m", "common knowledge of wetsuits", "common practice", "", 2,
            _foam_halved, doubt="the walls' stiffness was chosen by it",
        ),
    )  # fmt: skip


def _weighed(row: dict[str, str]) -> Cylinder:
    steel = row["metal"] == "steel"
    return cylinder(
        water_capacity=float(row["volume[in3]"]) * inch**3,
        outer_diameter=float(row["diameter[in]"]) * inch,
        metal="steel" if steel else "aluminium",
        base="concave" if steel else "flat",
        mass=float(row["mass[lb]"]) * lb,
    )


def _textbook() -> list[dict[str, str]]:
    return [row for row in table("cylinder_textbook") if row["use"] == "yes"]


def _textbook_lift() -> list[Compared]:
    found = []
    for row in _textbook():
        solid = _weighed(row).solid
        theirs = float(row["buoyancy_empty[lb]"]) * lb
        # one pound: what these rows agree within by their own volume and mass
        found.append(near(SEA_WATER * solid.volume - solid.mass, theirs, lb, row["name"]))
    return found


def _textbook_length() -> list[Compared]:
    rows = [(row, 1e3 * float(row["length[in]"]) * inch) for row in _textbook()]
    return [near(1e3 * _weighed(row).length, theirs, LENGTH_SPREAD * theirs, row["name"]) for row, theirs in rows]


def _by_formula(row: dict[str, str]) -> Cylinder:
    return cylinder(
        water_capacity=float(row["volume[l]"]) * 1e-3,
        outer_diameter=float(row["diameter[mm]"]) * 1e-3,
        working_pressure=float(row["pressure[bar]"]) * bar,
        metal="aluminium" if row["metal"] == "aluminium" else "steel",
    )


def _trade_case(row: dict[str, str]) -> str:
    return f"{row['metal']} {row['volume[l]']} l, {row['pressure[bar]']} bar, {row['diameter[mm]']} mm"


def _trade_mass() -> list[Compared]:
    rows = [(row, float(row["mass[kg]"])) for row in table("cylinder_trade_values")]
    return [near(_by_formula(r).solid.mass, kg, MASS_SPREAD * kg, _trade_case(r)) for r, kg in rows]


def _trade_length() -> list[Compared]:
    found = []
    for row in table("cylinder_trade_values"):
        low, high = (float(row[f"length_{end}[mm]"]) for end in ("from", "to"))
        length = 1e3 * _by_formula(row).length
        found.append(
            within(
                length,
                (1.0 - LENGTH_SPREAD) * low,
                (1.0 + LENGTH_SPREAD) * high,
                _trade_case(row),
                0.5 * (low + high),
            )
        )
    return found


def _plate(name: str) -> list[Compared]:
    thickness, density, low, high, rule = PLATES[name]
    return [within(plate_of(standard_plate_shape(thickness=thickness), density).solid.mass, low, high, "", rule)]


def _foam() -> list[Compared]:
    found = []
    for row in table("foam_thickness"):
        share, walls = float(row["gas_share[-]"]), float(row["wall_stiffness[bar]"]) * bar
        for depth in DEPTHS:
            ours = thickness_ratio(atm + SEA_WATER * 9.81 * depth, share, walls)
            # half the last digit, and as much again for the table's own water, which it does not state
            found.append(near(ours, float(row[f"{depth}m"]), 1e-3, f"{100 * share:.0f} % gas, {depth} m"))
    return found


def _foam_halved() -> list[Compared]:
    return [near(thickness_ratio(atm + SEA_WATER * 9.81 * 15.0, gas_share(180.0)), 0.5, 0.1)]
