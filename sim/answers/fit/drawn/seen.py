"""From the answers on fit to what the fit drawing shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.answers.fit.answer import FitAnswer
from sim.answers.fit.ashore import Ashore
from sim.answers.fit.drawn.scene import DrawnHand, DrawnLift, FitScene
from sim.answers.fit.look_ahead import LookAhead
from sim.answers.fit.reach import HandReach, reached_at
from sim.answers.fit.told.ashore import lean_words
from sim.assembly.assembled import Assembled, Worn
from sim.assembly.drawn_plate import DrawnPlate
from sim.assembly.placement import point_at
from sim.person.person import STANDING
from sim.person.posed_body import PosedBody, posed_body
from sim.rig import Kind, Part
from sim.telling.caution import told_caution
from sim.telling.language import quantity, say, told

LOOKED_AT: Final = 0.16  # m about a knob within which the hand's reach is drawn
SPACING: Final = 0.016  # m between the places tried
SOLID: Final[tuple[Kind, ...]] = ("valve", "manifold")


def fit_scene(assembled: Assembled, answer: FitAnswer, plate_name: str = "") -> FitScene:
    """The diver standing, arms hanging, in the rig that ``assembled`` wears; raises ValueError when none is worn."""
    worn = assembled.worn
    if worn is None:
        raise ValueError("a fit drawing needs a person with a plate on the back")
    body = worn.body if worn.body.pose == STANDING else posed_body(worn.body.person, STANDING)
    back = () if worn.cylinders is None else worn.cylinders.parts
    return FitScene(
        title=_title(assembled.title, plate_name),
        subtitle=_subtitle(worn, assembled.drawn),
        body=body,
        plate=worn.plate,
        seat=worn.seat,
        harness=next(iter(_meshes(assembled.rig.parts, ("harness",))), None),
        cylinders=_meshes(back, ("cylinder",)),
        bands=_meshes(back, ("bands",)),
        valves=(*_meshes(back, SOLID), *_meshes(worn.first_stages, ("regulator",))),
        strap=float(np.mean(point_at(worn.seat, worn.plate.waist_slots)[:, 0])),
        drop=worn.drop,
        hands=tuple(_hand(worn, h) for h in answer.reach if h.valve != "isolator"),
        lift=_lift(answer.look_ahead, body),
        straps_to_cut=(
            (say("one piece through the plate"), answer.straps.one_piece),
            (say("crotch strap"), answer.straps.crotch_cut),
        ),
        carried=_carried(answer.ashore),
        verdicts=tuple(
            replace(v, subject=_headed(told(v.subject)), sentence=_stopped(told(v.sentence))) for v in answer.verdicts
        ),
        caution=told_caution(),
    )


def _hand(worn: Worn, hand: HandReach) -> DrawnHand:
    p = hand.posture
    up, left, back = np.eye(3)
    return DrawnHand(
        side=hand.hand,
        chain=np.stack([p.shoulder, p.elbow, p.wrist, p.grip]),
        knob=hand.at,
        behind=_reach_in_plane(worn, hand, left, up),
        beside=_reach_in_plane(worn, hand, back, up),
        radius=LOOKED_AT,
        margin=hand.margin,
    )


def _reach_in_plane(worn: Worn, hand: HandReach, right: Floats, up: Floats) -> tuple[Floats, ...]:
    """Smooth rings (n, 3) about what the hand reaches within LOOKED_AT of the knob, in a plane of two directions."""
    from contourpy import contour_generator
    from scipy.ndimage import gaussian_filter

    steps = np.arange(-LOOKED_AT - 2.0 * SPACING, LOOKED_AT + 2.01 * SPACING, SPACING)
    across, along = np.meshgrid(steps, steps)
    points = hand.at + across.ravel()[:, None] * right + along.ravel()[:, None] * up
    near = np.hypot(across, along).ravel() <= LOOKED_AT
    got = np.zeros(len(points))
    got[near] = reached_at(worn, hand.hand, points[near])
    # what lies beyond the disc counts as it is at its edge, so that smoothing bends no line there
    share = gaussian_filter(got.reshape(across.shape), 0.8) / np.maximum(
        gaussian_filter(near.astype(float).reshape(across.shape), 0.8), 1e-6
    )
    level = np.minimum(share - 0.5, (LOOKED_AT - np.hypot(across, along)) / SPACING)
    lines: Any = contour_generator(x=steps, y=steps, z=level).lines(0.0)
    return tuple(hand.at + line[:, :1] * right + line[:, 1:] * up for line in lines if len(line) > 8)


def _lift(ahead: LookAhead, standing: PosedBody) -> DrawnLift | None:
    lifted = posed_body(standing.person, replace(STANDING, neck_extension=ahead.lift))
    head = dict(lifted.segments)["head"].mesh
    if head is None:
        return None
    return DrawnLift(
        head=head,
        pivot=standing.joints["neck"],
        eyes_before=standing.landmarks["eyes"],
        eyes=ahead.eyes,
        sight=ahead.sight,
        lift=ahead.lift,
        contact=ahead.contact if ahead.gear <= ahead.free else None,
        below_ahead=-ahead.ahead,
    )


def _meshes(parts: Iterable[Part], kinds: tuple[Kind, ...]) -> tuple[Mesh, ...]:
    return tuple(p.solid.mesh for p in parts if p.kind in kinds and p.solid.mesh is not None)


def _carried(ashore: Ashore) -> str:
    """The load of the carry ashore and what it asks of the stance, as the text report has it."""
    return say(
        "Carried ashore: {carried} of rig and lead, {share:.0f} % of the diver's {body}; to stand with it the "
        "diver {lean}",
        carried=quantity(ashore.carried, "kg", 0),
        share=100.0 * ashore.load_share,
        body=quantity(ashore.body_mass, "kg", 0),
        lean=lean_words(ashore.lean),
    )


def _title(title: str, plate: str) -> str:
    return say("{title}, here with: {plate}", title=_headed(title), plate=told(plate)) if plate else _headed(title)


def _subtitle(worn: Worn, drawn: DrawnPlate | None) -> str:
    person, plate = worn.body.person, worn.plate
    long = quantity(100.0 * np.ptp(plate.outline[:, 0]), "cm", 0, bare=True)
    size = f"{long} × {quantity(100.0 * plate.width, 'cm', 0)}"
    if drawn is not None and drawn.is_flat:
        size = say("{size}, FLAT: no bends stated", size=size)
    far = quantity(abs(100.0 * worn.drop), "cm", 1)
    if abs(worn.drop) < 5e-4:
        hung = say("waist-aligned")
    elif worn.drop > 0:
        hung = say("hung {far} below the waist", far=far)
    else:
        hung = say("hung {far} above the waist", far=far)
    return say(
        "{who}, {height}, {mass} · plate {size}, {hung}",
        who=say("woman") if person.sex == "female" else say("man"),
        height=quantity(100.0 * person.height, "cm", 0),
        mass=quantity(person.mass, "kg", 0),
        size=size,
        hung=hung,
    )


def _headed(words: str) -> str:
    return words[:1].upper() + words[1:]


def _stopped(sentence: str) -> str:
    return _headed(sentence).rstrip(".") + "."
