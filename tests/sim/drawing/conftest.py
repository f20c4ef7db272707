"""A small made-up diver: ellipsoids and boxes where a body and its gear would be. All numbers invented."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from meshes.mesh import joined, mirrored, moved
from meshes.primitives import box, ellipsoid
from meshes.solid import solid_of
from sim.drawing.scene import HangingScene, SuitGas, WingGas
from sim.rig import Kind, Part

LEG = ellipsoid([0.35, 0.07, 0.07], [-0.42, 0.10, 0.03], rings=12, points=20)


def a_part(name: str, kind: Kind, mesh: Any) -> Part:
    return Part(name, kind, solid_of(mesh, 1000.0))


def up_of(pitch: float, roll: float) -> np.ndarray:
    """World-up in body axes [rad]."""
    return np.array([np.sin(pitch), np.cos(pitch) * np.sin(roll), np.cos(pitch) * np.cos(roll)])


@pytest.fixture(scope="session")
def flat_scene() -> HangingScene:
    """The diver held flat."""
    trunk = ellipsoid([0.42, 0.19, 0.12], [0.25, 0.0, 0.0], rings=16, points=24)
    head = ellipsoid([0.13, 0.08, 0.10], [0.78, 0.0, -0.02], rings=10, points=16)
    skin = joined([trunk, head, LEG, mirrored(LEG)])
    bottle = ellipsoid([0.30, 0.08, 0.08], [0.22, 0.09, 0.24], rings=12, points=20)
    fin = box([0.5, 0.2, 0.02], [-0.95, 0.1, 0.05])
    parts = (
        a_part("left cylinder", "cylinder", bottle),
        a_part("right cylinder", "cylinder", mirrored(bottle)),
        a_part("left fin", "fins", fin),
        a_part("right fin", "fins", mirrored(fin)),
        a_part("plate", "plate", box([0.38, 0.25, 0.005], [0.22, 0.0, 0.13])),
    )
    corners = trunk.vertices[trunk.faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = 0.5 * np.linalg.norm(normal, axis=1)
    centre = corners.mean(axis=1)
    suit = SuitGas(
        centre, normal / (2.0 * area[:, None]), area, 0.004 + 0.04 * np.clip(centre[:, 2], 0.0, None),
        np.zeros(len(area), dtype=bool),
    )  # fmt: skip
    bag = ellipsoid([0.28, 0.22, 0.035], [0.2, 0.0, 0.17], rings=10, points=20)
    cells = np.array([[0.4, 0.1, 0.17], [0.4, -0.1, 0.17], [0.0, 0.1, 0.17], [0.0, -0.1, 0.17]])
    cm = np.array([0.16, 0.0, 0.05])
    return HangingScene(
        parts=parts, skin=skin, up=up_of(0.0, 0.0), pitch=0.0, roll=0.0, cm=cm, cb=cm + [0.0, 0.0, 0.012],
        mass=120.0, net_buoyancy=0.0, trimming_moment=-7.25, title="An invented diver with two cylinders",
        caption=("fresh water, 12 m deep", "wing 6.4 l, suit 7.1 l"),
        caution="A model: check any change of gear in confined water with a qualified instructor.",
        worn=(("suit", np.arange(len(skin.vertices)) < len(trunk.vertices)),), suit=suit,
        wing=WingGas(bag, cells, np.array([1.5e-3, 1.5e-3, 0.2e-3, 0.2e-3])),
    )  # fmt: skip


@pytest.fixture(scope="session")
def scene_at(flat_scene: HangingScene) -> Any:
    """Function of pitch and roll [degrees] that turns the flat scene, the CB kept right above the CM."""

    def turned(pitch: float, roll: float = 0.0, **changes: Any) -> HangingScene:
        p, r = np.radians([pitch, roll])
        up = up_of(p, r)
        where = {"up": up, "pitch": float(p), "roll": float(r), "cb": flat_scene.cm + 0.012 * up}
        return replace(flat_scene, **(where | changes))

    return turned


@pytest.fixture(scope="session")
def mirrored_scene() -> Any:
    """Function that swaps a scene's left and right."""

    def swapped(scene: HangingScene) -> HangingScene:
        flip = np.array([1.0, -1.0, 1.0])
        assert scene.suit is not None
        assert scene.wing is not None
        assert scene.skin is not None
        return replace(
            scene,
            parts=tuple(a_part(p.name, p.kind, mirrored(p.solid.mesh)) for p in scene.parts if p.solid.mesh),
            skin=mirrored(scene.skin), up=scene.up * flip, roll=-scene.roll, cm=scene.cm * flip, cb=scene.cb * flip,
            suit=replace(scene.suit, centre=scene.suit.centre * flip, normal=scene.suit.normal * flip),
            wing=WingGas(mirrored(scene.wing.bag), scene.wing.cells * flip, scene.wing.volume),
        )  # fmt: skip

    return swapped


@pytest.fixture(scope="session")
def ball() -> Any:
    """Function of radius and centre [m] that makes a sphere's mesh."""
    unit = ellipsoid([1.0, 1.0, 1.0], rings=40, points=60)
    return lambda radius, centre: moved(unit, radius * np.eye(3), centre)
