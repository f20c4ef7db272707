"""The list of all that is found of a rig on a person, from the waist upward, then hands and eyes: as it is told."""

from __future__ import annotations

from collections.abc import Container
from typing import Final

from sim.answers.fit.demands.cylinder_bottoms import CYLINDER_BOTTOMS
from sim.answers.fit.demands.demand import Demand, Finding, Reason
from sim.answers.fit.demands.hand_on_plate import HAND_ON_PLATE
from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.demands.plate_bottom import PLATE_BOTTOM
from sim.answers.fit.demands.plate_top import PLATE_TOP
from sim.answers.fit.demands.plate_width import PLATE_WIDTH
from sim.answers.fit.demands.seen_attitude import SEEN_ATTITUDE
from sim.answers.fit.demands.shoulder_straps import SHOULDER_STRAPS
from sim.answers.fit.demands.slung_reach import SLUNG_REACH
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.found import Found
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.verdict import Verdict
from sim.telling.record import Unit

FINDINGS: Final[tuple[Finding, ...]] = (
    WAIST_STRAP,
    PLATE_TOP,
    HAND_ON_PLATE,
    SHOULDER_STRAPS,
    PLATE_WIDTH,
    PLATE_BOTTOM,
    CYLINDER_BOTTOMS,
    VALVE_REACH,
    SLUNG_REACH,
    LOOKS_AHEAD,
    SEEN_ATTITUDE,
)
# Those that can fail, as their margins stand side by side
DEMANDS: Final = tuple(sorted((f for f in FINDINGS if isinstance(f, Demand)), key=lambda demand: demand.place))
UNITS: Final = {demand.name: demand.unit for demand in DEMANDS}
ANGLES: Final[tuple[tuple[str, Unit], ...]] = tuple((name, "deg") for name, unit in UNITS.items() if unit == "rad")
REASONS: Final[tuple[Reason, ...]] = tuple(dict.fromkeys(demand.reason for demand in DEMANDS))


def verdicts_of(found: Found) -> tuple[Verdict, ...]:
    """Every finding on one diver, in the order in which they are told."""
    return tuple(verdict for finding in FINDINGS for verdict in finding.verdicts(found))


def failing_of(found: Found, but: Container[str] = ()) -> tuple[str, ...]:
    """Subjects of those that do not pass, in that order; of all findings ``but`` some, by their names."""
    return tuple(subject for f in FINDINGS if f.name not in but for subject in f.failing(found))


def asked_of(rig: HungRig) -> tuple[Demand, ...]:
    """The demands that a rig has to meet, as their margins stand side by side."""
    return tuple(demand for demand in DEMANDS if demand.asked_of(rig))
