"""A rig told as a parts file: what was assembled, as numbers that anybody can check or go on from.

The statics of what is read again are the same. Shapes are not kept: settling goes by the parts' inertia, as for any
parts file.
"""

from __future__ import annotations

from typing import Any

from meshes.mesh import Floats
from scenarios.checking import checked
from scenarios.parts_file import PARTS_FORMAT, PartsFile
from scenarios.quantities import SI
from sim.fill_laws import FillLaw, GarmentLaw, LogisticLaw
from sim.rig import Part, Pocket, Rig


def rig_as_parts(rig: Rig, title: str, name: str) -> PartsFile:
    """The contents of a parts file for a rig; ``name`` is what it is called in messages.

    Raises ScenarioError for a rig with numbers that no parts file may hold.
    """
    water = rig.water
    tables: dict[str, Any] = {
        "format": PARTS_FORMAT,
        "title": title,
        "water": {"density": SI(water.density), "gravity": SI(water.gravity)},
        "depth": {"pressure": SI(water.pressure), "held": rig.held.tolist()},
        "part": [_part(part) for part in rig.parts],
    }
    for pocket in (rig.suit, rig.wing):
        if pocket is not None:
            tables[pocket.name] = _pocket(pocket)
    return checked(PartsFile, tables, name=name)


def _part(part: Part) -> dict[str, Any]:
    solid = part.solid
    inertia = 0.5 * (solid.inertia + solid.inertia.T)  # rounding leaves the two halves apart
    return {
        "name": part.name,
        "kind": part.kind,
        "mass": SI(solid.mass),
        "cm": solid.cm.tolist(),
        "volume": SI(solid.volume),
        "cb": solid.cb.tolist(),
        "inertia": inertia.tolist(),
    }


def _pocket(pocket: Pocket) -> dict[str, Any]:
    return {
        "gas": "neutral" if pocket.gas is None else SI(pocket.gas),
        "gas_density": SI(pocket.gas_density),
        "gas_time": SI(pocket.time_constant),
        "softness": SI(pocket.law.scale),
        **_cells(pocket.cells, pocket.law),
    }


def _cells(at: Floats, law: FillLaw) -> dict[str, Any]:
    """The cells under the key of their law; a logistic one's softness and a garment's stiffness are its scale."""
    if isinstance(law, GarmentLaw):
        columns = {"loft": law.loft, "slack": law.slack, "preload": law.preload}
    elif isinstance(law, LogisticLaw):
        columns = {"least": law.lower, "most": law.upper}
    else:
        raise TypeError(f"no parts file knows the law {type(law).__name__}")
    places = at.tolist()
    rows = [{"at": p, **{k: SI(v[i]) for k, v in columns.items()}} for i, p in enumerate(places)]
    return {"garment" if isinstance(law, GarmentLaw) else "cells": rows}
