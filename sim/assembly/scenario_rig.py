"""A rig from a scenario: the person posed, dressed stage by stage, and what pictures and answers need beside it."""

from __future__ import annotations

from collections.abc import Sequence

from scenarios.fit import Fit
from scenarios.models import Scenario
from sim.assembly.assembled import Assembled, Looks, Mobility, Worn
from sim.assembly.back_cylinders import BackCylinders
from sim.assembly.body_items import outside_of_items
from sim.assembly.clothing import Clothing
from sim.assembly.drawn_plate import DrawnPlate
from sim.assembly.head_hands_feet import bare_hands
from sim.assembly.learnt import learnt_effects, learnt_note, with_effects, with_learnt_values
from sim.assembly.posed_diver import PosedDiver, posed_diver
from sim.assembly.regulators import FirstStages
from sim.assembly.stages import dressed
from sim.assembly.suit_gas import SuitSkin
from sim.assembly.surroundings import surroundings
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar
from sim.assembly.worn_wing import WingLooks
from sim.rig import Rig


def assembled_scenario(
    scenario: Scenario, name: str, notes: Sequence[str] = (), wearer: PosedDiver | None = None
) -> Assembled:
    """Rig of a scenario; ``wearer`` is its person, already made, where many rigs are laid on one.

    Raises UnbuildableError, naming the key, for gear or bodies that cannot be.
    """
    told, made = (*notes, *learnt_note(scenario.learnt)), _dressed(scenario, wearer)
    return Assembled(
        rig=with_effects(made.rig, learnt_effects(scenario)),
        title=scenario.title or name,
        estimated=made.estimated,
        notes=tuple(dict.fromkeys((*told, *made.notes))),  # of two things alike once
        looks=_looks(made),
        worn=_worn(made),
        drawn=made.offered(DrawnPlate),
    )


def scenario_rig(scenario: Scenario, wearer: PosedDiver | None = None) -> Rig:
    """The rig alone, for who looks at many and draws none; raises as ``assembled_scenario`` does."""
    return with_effects(_dressed(scenario, wearer).rig, learnt_effects(scenario))


def _dressed(scenario: Scenario, wearer: PosedDiver | None) -> DiverSoFar:
    """All that is worn, values learnt from the user's own measurements put in."""
    scenario = with_learnt_values(scenario)
    diver = posed_diver(scenario) if wearer is None else wearer
    with blaming("water"):
        water = surroundings(scenario.water)
    return dressed(DiverSoFar(scenario, water, diver))


def _looks(made: DiverSoFar) -> Looks:
    """What a picture needs beyond the rig."""
    body = made.body
    return Looks(
        skin=body.drawing,
        suit=made.offered(SuitSkin),
        wing=made.offered(WingLooks),
        mouth=body.landmarks["mouth"],
        hands=bare_hands(body),
        segments=outside_of_items(body),
    )


def _worn(made: DiverSoFar) -> Worn | None:
    """What the answers on fit need; None unless a plate is worn."""
    lies, clothing, firsts = made.needed(SeatedPlate), made.needed(Clothing), made.offered(FirstStages)
    if not lies.worn:
        return None
    cylinders = made.scenario.cylinders
    return Worn(
        body=made.body,
        plate=lies.plate,
        seat=lies.seat,
        padding=clothing.under_plate,
        under_straps=clothing.under_straps,
        clothing=clothing.thickness,
        hood=clothing.hood,
        drop=lies.drop,
        shift=0.0 if cylinders is None else cylinders.shift,
        cylinders=made.offered(BackCylinders),
        first_stages=() if firsts is None else firsts.parts,
        mobility=_mobility(made.scenario.fit),
    )


def _mobility(fit: Fit) -> Mobility:
    return Mobility(
        fit.shoulder_bulk, fit.neck_bulk, fit.stiff_left_shoulder, fit.stiff_right_shoulder, fit.elbow_bulk
    )
