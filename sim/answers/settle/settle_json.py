"""The answers as one JSON object: the contract ``hangflat.settle/1`` that other programs depend on.

Angles in degrees, moments N m about the held point, lengths m in body axes, volumes litres. Fields may be added,
never renamed or removed under this format number.
"""

from __future__ import annotations

import math
from typing import Any, Final

from meshes.mesh import Floats
from sim.answers.settle.freeze import freeze_test
from sim.answers.settle.report import SettleReport, WhyReport
from sim.assembly.assembled import Assembled
from sim.settling.settle import Settled
from sim.statics.equilibria import Equilibrium
from sim.statics.flat import FlatAnswer, ItemMoment
from sim.telling.caution import CAUTION
from sim.telling.drawn_plate import drawn_plate_json

FORMAT: Final = "hangflat.settle/1"
WHY_FORMAT: Final = "hangflat.why/1"
LITRE: Final = 1e-3


def settle_json(report: SettleReport) -> dict[str, Any]:
    """All answers as plain numbers, lists and texts, ready for ``json.dumps``."""
    return {
        "format": FORMAT,
        "title": report.assembled.title,
        "drawn_plate": drawn_plate_json(report.assembled),
        "water": _water(report.assembled),
        "whole": _whole(report.flat),
        "suit": _suit(report),
        "flat": _flat(report),
        "held": [{"pitch_deg": math.degrees(h.pitch), "stable": h.stable} for h in report.held],
        "indifferent": report.rest.indifferent,
        "rest": [_rest(e, b) for e, b in zip(report.rest.found, report.barriers, strict=True)],
        "settled": _settled(report.settled),
        "settled_roll_free": _settled(report.free),
        "items": [_item(i) for i in report.items],
        "sensitivity": [
            {
                "change": c.change,
                "pitch_moment_nm": c.pitch_moment,
                "pitch_stiffness_nm_per_rad": c.pitch_stiffness,
            }
            for c in report.sensitivity
        ],
        "estimated": list(report.assembled.estimated),
        "notes": list(report.notes),
        "caution": CAUTION,
    }


def why_json(report: WhyReport) -> dict[str, Any]:
    """The moment budget, largest moment first."""
    return {
        "format": WHY_FORMAT,
        "title": report.assembled.title,
        "drawn_plate": drawn_plate_json(report.assembled),
        "water": _water(report.assembled),
        "whole": _whole(report.flat),
        "flat": {"pitch_moment_nm": report.flat.pitch_moment, "roll_moment_nm": report.flat.roll_moment},
        "items": [_item(i) for i in sorted(report.items, key=lambda i: -abs(i.moment))],
        "estimated": list(report.assembled.estimated),
        "notes": list(report.assembled.notes),
        "caution": CAUTION,
    }


def _water(assembled: Assembled) -> dict[str, float]:
    water = assembled.rig.water
    return {"density_kg_m3": water.density, "gravity_m_s2": water.gravity, "pressure_pa": water.pressure}


def _point(place: Floats) -> list[float]:
    return [float(x) for x in place]


def _whole(flat: FlatAnswer) -> dict[str, Any]:
    return {
        "mass_kg": flat.mass,
        "volume_l": flat.volume / LITRE,
        "net_buoyancy_kg": flat.net_buoyancy,
        "wing_gas_l": flat.wing_gas / LITRE,
        "suit_gas_l": flat.suit_gas / LITRE,
        "cm_m": _point(flat.cm),
        "cb_m": _point(flat.cb),
    }


def _suit(report: SettleReport) -> dict[str, Any] | None:
    """What the suit's gas comes from, and how far it leaves the back squeezed; None without such a suit."""
    looks = report.assembled.looks
    if looks is None or looks.suit is None:
        return None
    return {"gas_from": looks.suit.gas_from, "back_squeeze_pa": report.back_squeeze}


def _flat(report: SettleReport) -> dict[str, Any]:
    flat = report.flat
    return {
        "pitch_moment_nm": flat.pitch_moment,
        "roll_moment_nm": flat.roll_moment,
        "pitch_stiffness_nm_per_rad": flat.pitch_stiffness,
        "roll_stiffness_nm_per_rad": flat.roll_stiffness,
        "gas_takes_from_pitch_stiffness_nm_per_rad": flat.pitch_gas,
        "gas_takes_from_roll_stiffness_nm_per_rad": flat.roll_gas,
        "held_point_m": _point(report.assembled.rig.held),
    }


def _rest(e: Equilibrium, barrier: float | None) -> dict[str, Any]:
    pitch, roll = _angles(e.up)
    return {
        "pitch_deg": pitch,
        "roll_deg": roll,
        "up": _point(e.up),
        "kind": e.kind,
        "energy_j": e.energy,
        # a rest that nothing but a turn through every attitude leaves has no pass: JSON knows no infinity
        "barrier_j": None if barrier is None or math.isinf(barrier) else barrier,
        "wing_gas_l": e.wing_gas / LITRE,
        "net_buoyancy_kg": e.net_buoyancy,
        "stiffness_nm_per_rad": [float(k) for k in e.stiffness],
    }


def _angles(up: Floats) -> tuple[float, float]:
    """Pitch, -90 to 90, and roll, -180 to 180 [degrees], of a world-up direction (3,) in body axes."""
    return math.degrees(math.asin(min(1.0, max(-1.0, float(up[0]))))), math.degrees(math.atan2(up[1], up[2]))


def _settled(settled: Settled | None) -> dict[str, Any] | None:
    if settled is None:
        return None
    # a diver who went over with roll held lies on the back: pitch within 90 degrees, roll 180
    pitch, roll = _angles(settled.up)
    return {
        "pitch_deg": pitch,
        "roll_deg": roll,
        "time_s": settled.time,
        "time_is_least": settled.outlasted,
        "reached": settled.reached,
        "roll": settled.roll_rule,
        "outcome": settled.outcome,
        "time_to_30_deg_roll_s": settled.time_to_30_roll,
        "freeze_test": [
            {"time_s": d.time, "pitch_deg": math.degrees(d.pitch), "roll_deg": math.degrees(d.roll)}
            for d in freeze_test(settled)
        ],
    }


def _item(i: ItemMoment) -> dict[str, Any]:
    return {
        "name": i.name,
        "kind": i.kind,
        "mass_kg": i.mass,
        "volume_l": i.volume / LITRE,
        "apparent_weight_kg": i.apparent_weight,
        "arm_m": i.arm,
        "moment_nm": i.moment,
        "couple_nm": i.couple,
    }
