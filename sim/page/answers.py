"""What the page shows of a set-up at once, as plain values ready to be sent: each a pure function of the set-up."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.memoized import memoized
from meshes.mesh import Mesh
from scenarios.errors import ScenarioError
from sim.answers.fit.answer import fit_answer
from sim.answers.model.motion import motion_of
from sim.answers.model.page import page_words
from sim.answers.model.parts import ShownPart, shown_parts
from sim.answers.model.view import (
    items_of,
    packed_motion,
    suit_of,
    suit_scale_of,
    surface_of,
    told_numbers,
    told_view_of,
)
from sim.answers.settle.drawn.settled import scene_of
from sim.answers.settle.freeze import freeze_test
from sim.case import Case
from sim.drawing.scene import HangingScene
from sim.page.facts import facts
from sim.page.flat import flat_report, still
from sim.page.handles import handles
from sim.page.memory import give_back
from sim.page.plate_picture import plate_picture
from sim.page.set_up import SetUp, case_of, problems_of
from sim.page.words import WORDS, worded
from sim.settling.settle import settle
from sim.telling.caution import told_caution
from sim.telling.drawn_plate import drawn_plate_rows, told_drawn_plate
from sim.telling.language import Language, Units, number, spoken, told
from sim.telling.record import as_json
from sim.telling.words import attitude_words, moment_words

Answer = dict[str, Any]
ToldIn = tuple[Language, Units]
PLAIN: Final[ToldIn] = ("en", "metric")
SUIT_GAS: Final = "suit gas"
LAST: Final = "let go"  # of what the page asks after a change


def answered(
    what: str, document: Mapping[str, Any], place: str, known: Collection[str] = (), told_in: ToldIn = PLAIN
) -> Answer:
    """One answer by its name, or ``problems`` where the set-up cannot be read or built.

    known : digests of the shapes that whoever asks has already;  told_in : language and units
    Raises KeyError for a name that is none.
    """
    answer = _ANSWERS[what]
    try:
        with spoken(*told_in):
            return answer(case_of(SetUp(document, Path(place))), frozenset(known))
    except ScenarioError as refused:
        return {"problems": problems_of(refused)}
    finally:
        if what == LAST:
            give_back()


def _flat(case: Case, known: Collection[str]) -> Answer:
    """The diver held flat: what turns it, in numbers and words."""
    report = flat_report(case)
    flat = report.flat
    return {
        "moment": flat.pitch_moment,
        "stiffness": flat.pitch_stiffness,
        "sentence": worded(WORDS["held flat"]).format(moment=moment_words(flat.pitch_moment)),
        "items": [asdict(item) for item in items_of(report)],
        "numbers": [[worded(name), value] for name, value in told_numbers(report)],
        "estimated": [told(name) for name in case.assembled.estimated],
        "notes": [told(note) for note in case.assembled.notes],
        "caution": told_caution(),
    }


def _view(case: Case, known: Collection[str]) -> Answer:
    """Every shape that is not known yet, and what can be taken hold of."""
    report = flat_report(case)
    scene = scene_of(report)
    parts = shown_parts(scene)
    view = told_view_of(report, parts, still(report), scene, page_words())
    return asdict(view) | {
        "surfaces": [_sent(part, scene.skin, known) for part in parts],
        "suit": _suit_sent(scene, parts, known),
        "handles": [as_json(handle) | {"name": worded(handle.name)} for handle in handles(case)],
        "layers": [[layer.name, worded(layer.words), layer.on] for layer in view.layers],
    }


def _let_go(case: Case, known: Collection[str]) -> Answer:
    """The motion from flat, and the freeze test in words."""
    settled = settle(case.rig)
    report = replace(flat_report(case), settled=settled)
    motion = motion_of(report)
    freeze = [
        (_after(d.time), attitude_words(math.degrees(d.pitch), math.degrees(d.roll))) for d in freeze_test(settled)
    ]
    where = attitude_words(math.degrees(settled.pitch), math.degrees(settled.roll))
    rest = worded(WORDS["at rest"]).format(attitude=where)
    end = (_after(settled.time), rest if settled.reached else where)
    frames = None if motion is None else asdict(packed_motion(motion, scene_of(report)))
    return {"motion": frames, "freeze": [*freeze, end]}


def _after(seconds: float) -> str:
    return worded(WORDS["after"]).format(seconds=number(seconds, 0))


def _fits(case: Case, known: Collection[str]) -> Answer:
    """Every demand on fit with its sentence."""
    if case.worn is None:
        return {"verdicts": [], "why": worded(WORDS["fit needs a plate"])}
    found = fit_answer(case.assembled)
    said = [{"subject": told(v.subject), "passes": v.passes, "sentence": told(v.sentence)} for v in found.verdicts]
    return {"verdicts": said, "answer": as_json(found)}


def _facts(case: Case, known: Collection[str]) -> Answer:
    """What each value is taken to be, and what was read off a plate's drawing."""
    drawn = told_drawn_plate(case.assembled)
    plate = None if drawn is None or case.worn is None else {
        "file": drawn.file,
        "rows": list(drawn_plate_rows(drawn)),
        "picture": plate_picture(case.worn.plate, drawn),
        "flat": drawn.is_flat,
    }  # fmt: skip
    return {"facts": facts(case), "plate": plate}


def _posture(case: Case, known: Collection[str]) -> Answer:
    """What the moment asks of the diver, in the words of posture."""
    from sim.answers.posture.posture import posture_of
    from sim.answers.posture.told import posture_headline

    found = posture_of(case)
    knee = found.flat_knee
    words = worded(WORDS["flat by knees"])
    return {
        "sentence": posture_headline(found),
        "held": found.held,
        "knees": None if knee is None else words.format(degrees=number(math.degrees(knee), 0)),
    }


def _sent(part: ShownPart, skin: Mesh | None, known: Collection[str]) -> Answer:
    """A surface with its digest; without its shape where that is known."""
    surface = part.surface
    # the view pushes the gas out from the skin by itself, so that its shape here is of no matter
    mesh = skin if surface.kind == SUIT_GAS and skin is not None else surface.mesh
    colours = b"" if mesh is skin and surface.layer else np.ascontiguousarray(surface.colours).tobytes()
    digest = _digest(surface.name.encode(), _mesh_digest(mesh), colours)
    shown = {"name": surface.name, "group": part.layer, "digest": digest}
    return shown if digest in known else asdict(surface_of(part)) | shown


def _suit_sent(scene: HangingScene, parts: Sequence[ShownPart], known: Collection[str]) -> Answer | None:
    """How the layer of gas follows the patches, with a digest; without what is known already."""
    if scene.suit is None or scene.skin is None:
        return None
    suit = scene.suit
    suited = b"".join(there.tobytes() for kind, there in scene.worn if kind == "suit")
    digest = _digest(
        _mesh_digest(scene.skin), suited, suit.centre.tobytes(), suit.normal.tobytes(), suit.area.tobytes()
    )
    found = suit_of(scene, parts) if digest not in known else suit_scale_of(scene, parts)
    return None if found is None else asdict(found) | {"digest": digest}


@memoized
def _mesh_digest(mesh: Mesh) -> bytes:
    return _digest(mesh.vertices.tobytes(), mesh.faces.tobytes()).encode()


def _digest(*parts: bytes) -> str:
    made = hashlib.blake2b(digest_size=12)
    for part in parts:
        made.update(len(part).to_bytes(8, "little"))
        made.update(part)
    return made.hexdigest()


_ANSWERS: dict[str, Callable[[Case, Collection[str]], Answer]] = {
    "flat": _flat,
    "view": _view,
    "let go": _let_go,
    "fit": _fits,
    "posture": _posture,
    "facts": _facts,
}
