"""What single pieces of gear weigh in water, as the catalogue has them and as they are worn."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import numpy as np
from scipy.constants import lb

from scenarios.reading import scenario_of
from sim.answers.evidence.check import Check, Compared, near, within
from sim.assembly.scenario_rig import assembled_scenario
from sim.rig import Part

SEA_WATER: Final = 1025.0  # kg/m^3, what such numbers are told for
NEARLY_EMPTY: Final = 10.0  # bar
GAS: Final = (
    3.0  # kg in 11.1 l at 207 bar, rounded up: no trade's word can be farther from nil, at a lever of 1 m at most
)
LIFTED: Final = 10.0  # cm: less is not seen as a base that rises
HIGHEST: Final = 80.0  # cm, more than the cylinder is long
STAYS: Final = 5.0  # cm: more would be seen
HUNG: Final = ("under the chest", "along the flank")
WEARER: Final = {"sex": "male", "height": "178 cm", "mass": "76 kg", "measures": {"foot_length": "26 cm"}}


def checks() -> tuple[Check, ...]:
    slung = "a slung aluminium cylinder goes light at the end and its foot rises"
    return (
        Check("Gear", "rubber boots of a drysuit, a pair in water", "from memory", "memory", "kg", 2, _boots),
        Check("Gear", "rubber fins, a pair in water", "0.3 to 1.0 kg", "common practice", "kg", 2, _fins),
        Check(
            "Gear", "80 cubic feet of aluminium, empty: lift with valve", "about 4 lb", "common practice", "kg", 2,
            _aluminium,
        ),
        Check("Gear", "slung aluminium, 207 bar: weight in water", slung, "common practice", "kg", 2, _slung_full),
        Check("Gear", "slung aluminium, 10 bar: weight in water", slung, "common practice", "kg", 2, _slung_empty),
        Check("Gear", "slung aluminium, 10 bar: pull of its tail down", slung, "common practice", "kg m", 2, _tail),
        Check("Gear", "aluminium stage, 200 to 10 bar: its base rises", slung,
              "common practice", "cm", 0, lambda: _rises("aluminium 11.1 l", LIFTED, HIGHEST)),
        Check("Gear", "steel stage, 200 to 10 bar: its base rises",
              "a slung steel cylinder stays down to the end", "common practice", "cm", 1,
              lambda: _rises("steel 7 l", -STAYS, STAYS)),
    )  # fmt: skip


@cache
def _worn(key: str, pressure: float = 200.0) -> tuple[Part, ...]:
    """Parts of one piece of gear on a man with feet of 26 cm; ``key`` names it."""
    gear: dict[str, dict[str, Any]] = {
        "boots": {"suit": "trilaminate"},
        "fins": {"fins": "rubber"},
        "aluminium": {"cylinders": {"catalogue": "aluminium 11.1 l 207 bar", "pressure": f"{pressure} bar"}},
        "stage": {"gear": [{"catalogue": "stage aluminium 11.1 l", "pressure": f"{pressure} bar"}]},
    }
    parts = assembled_scenario(scenario_of({"diver": WEARER, **gear[key]}), key).rig.parts
    kinds = {
        "boots": {"boots"},
        "fins": {"fins"},
        "aluminium": {"cylinder", "valve", "breathing gas"},
        "stage": {"stage", "breathing gas"},
    }
    return tuple(p for p in parts if p.kind in kinds[key])


def _sinks(parts: tuple[Part, ...]) -> float:
    """Apparent weight [kg] in sea water."""
    return sum(p.solid.mass - SEA_WATER * p.solid.volume for p in parts)


def _boots() -> list[Compared]:
    return [within(_sinks(_worn("boots")), 0.1, 0.2)]


def _fins() -> list[Compared]:
    return [within(_sinks(_worn("fins")), 0.3, 1.0)]


def _aluminium() -> list[Compared]:
    # told to the pound: half of one either way
    return [near(-_sinks(_worn("aluminium", 0.0)), 4.0 * lb, 0.5 * lb)]


def _slung_full() -> list[Compared]:
    return [within(_sinks(_worn("stage", 207.0)), 0.0, GAS)]


def _slung_empty() -> list[Compared]:
    return [within(_sinks(_worn("stage", NEARLY_EMPTY)), -GAS, 0.0)]


def _tail() -> list[Compared]:
    """About the clip at its neck, which the valve marks."""
    parts = _worn("stage", NEARLY_EMPTY)
    cylinder, fittings = parts[0].solid, parts[-1].solid
    up = (fittings.cm - cylinder.cm) / np.linalg.norm(fittings.cm - cylinder.cm)
    pull = sum(
        p.solid.mass * ((fittings.cm - p.solid.cm) @ up)
        - SEA_WATER * p.solid.volume * ((fittings.cm - p.solid.cb) @ up)
        for p in parts
    )
    return [within(float(pull), -GAS, 0.0)]


def _rises(stage: str, least: float, most: float) -> list[Compared]:
    """How much higher a cylinder's lower band lies, nearly empty, than full [cm], the diver flat."""
    return [
        within(100.0 * (_band(stage, how, NEARLY_EMPTY) - _band(stage, how, 200.0)), least, most, how) for how in HUNG
    ]


def _band(stage: str, hangs: str, pressure: float) -> float:
    gear = [{"catalogue": f"stage {stage}", "hangs": hangs, "pressure": f"{pressure} bar"}]
    parts = assembled_scenario(scenario_of({"diver": WEARER, "gear": gear}), "hung").rig.parts
    return next(p.hangs.lies.band[2] for p in parts if p.hangs is not None)
