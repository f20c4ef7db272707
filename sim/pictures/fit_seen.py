"""From the answers on fit to what the fit drawing shows."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np

from meshes.mesh import Mesh
from sim.assembly.assembled import Assembled, Worn
from sim.assembly.placement import point_at
from sim.fit.answer import FitAnswer
from sim.person.person import STANDING
from sim.person.posed_body import posed_body
from sim.pictures.fit_scene import FitScene, Judged
from sim.report.caution import CAUTION
from sim.rig import Kind, Part

SOLID: Final[tuple[Kind, ...]] = ("valve", "manifold")


def fit_scene(assembled: Assembled, answer: FitAnswer, plate_name: str = "") -> FitScene:
    """The diver standing, arms hanging, in the rig that ``assembled`` wears; raises ValueError when none is worn."""
    worn = assembled.worn
    if worn is None:
        raise ValueError("a fit drawing needs a person with a plate on the back")
    body = worn.body if worn.body.pose == STANDING else posed_body(worn.body.person, STANDING)
    back = () if worn.cylinders is None else worn.cylinders.parts
    return FitScene(
        title=assembled.title[:1].upper() + assembled.title[1:],
        subtitle=_subtitle(worn, plate_name),
        body=body,
        plate=worn.plate,
        seat=worn.seat,
        harness=next(iter(_meshes(assembled.rig.parts, ("harness",))), None),
        cylinders=_meshes(back, ("cylinder",)),
        bands=_meshes(back, ("bands",)),
        valves=(*_meshes(back, SOLID), *_meshes(worn.first_stages, ("regulator",))),
        strap=float(np.mean(point_at(worn.seat, worn.plate.waist_slots)[:, 0])),
        drop=worn.drop,
        verdicts=tuple(Judged(_headed(v.subject), v.passes, _told(v.sentence)) for v in answer.verdicts),
        caution=CAUTION,
    )


def _meshes(parts: Iterable[Part], kinds: tuple[Kind, ...]) -> tuple[Mesh, ...]:
    return tuple(p.solid.mesh for p in parts if p.kind in kinds and p.solid.mesh is not None)


def _subtitle(worn: Worn, plate_name: str) -> str:
    person, plate = worn.body.person, worn.plate
    who = {"female": "woman", "male": "man"}[person.sex]
    size = f"{100.0 * (plate.top[0] - plate.bottom[0]):.0f} × {100.0 * plate.width:.0f} cm"
    hung = (
        "waist-aligned"
        if abs(worn.drop) < 5e-4
        else (f"hung {abs(100.0 * worn.drop):.1f} cm {'below' if worn.drop > 0 else 'above'} the waist")
    )
    return (
        f"{who}, {100.0 * person.height:.0f} cm, {person.mass:.0f} kg · "
        f"{plate_name + ', ' if plate_name else ''}plate {size}, {hung}"
    )


def _headed(words: str) -> str:
    return words[:1].upper() + words[1:]


def _told(sentence: str) -> str:
    return _headed(sentence).rstrip(".") + "."
