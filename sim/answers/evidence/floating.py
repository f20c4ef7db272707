"""Bodies afloat, clipped at the waterline: plain shapes whose answers are closed forms."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Final

import numpy as np

from meshes.loft import circle, loft
from meshes.mesh import Floats, Mesh
from meshes.primitives import box, ellipsoid
from sim.answers.evidence.check import Check, Compared, near, table
from sim.floating.articulated import articulated
from sim.floating.body import FloatingBody, floating_body, homogeneous, hull_of
from sim.floating.clip import immersion
from sim.floating.equilibrium import floats_from
from sim.floating.joint import Joint
from sim.floating.limp import limp_from
from sim.floating.righting import metacentric_height, righting_arm

THEME: Final = "Afloat"
UP: Final = np.array([0.0, 0.0, 1.0])
ALONG: Final = np.array([1.0, 0.0, 0.0])
ROD, THIN = 1.2, 0.02  # m, of the hinged rods
SPHERE_COLUMNS: Final = ("volume[m3]", "centre[m]", "waterplane[m2]", "second_moment[m4]")
CARRIED: Final = 5e-5  # left by 160 and 320 points round, carried on: the waterline meets edges now here, now there


def checks() -> tuple[Check, ...]:
    reid = "Reid 1963, Am J Phys 31:565; polygon clipping and formula"
    closed = "closed forms of naval architecture"
    return (
        Check(THEME, "heel of a square prism by density", reid, "computed elsewhere", "degrees", 4, _prism),
        Check(THEME, "metacentric height GM of a box", closed, "computed elsewhere", "m", 7, _box_gm),
        Check(THEME, "righting arm GZ of a box, 1 to 30°", closed, "computed elsewhere", "m", 8, _box_gz),
        Check(
            THEME, "ball under water: volume, CB, waterplane / exact", closed, "computed elsewhere", "", 5, _sphere,
        ),
        Check(THEME, "lying cylinder: volume, CB, waterplane / exact", closed, "computed elsewhere", "", 5, _rod),
        Check(THEME, "light rod hinged over the water: lean", "moments about the hinge: cos a = h / (L sqrt(1 - s))",
              "computed elsewhere", "degrees", 2, _hinged_rods),
        Check(THEME, "light rod, heavy one hinged to it: under water", "Archimedes: s1 L + (s2 - 1) L",
              "computed elsewhere", "m", 6, _hung_rods),
        Check(THEME, "order at which a ball's errors vanish", "twice as fine, a quarter of the error",
              "computed elsewhere", "", 2, lambda: _order(_ball_errors)),
        Check(THEME, "order at which a cylinder's errors vanish", "twice as fine, a quarter of the error",
              "computed elsewhere", "", 2, lambda: _order(_rod_errors)),
    )  # fmt: skip


def _numbers(name: str) -> list[dict[str, float]]:
    return [{k: float(v) for k, v in row.items()} for row in table(name)]


def _prism() -> list[Compared]:
    found = []
    for row in _numbers("floating_square_prism"):
        s = row["relative_density[-]"]
        rest = floats_from(homogeneous(box([6.0, 1.0, 1.0]), s), np.array([0.0, 0.1, 1.0]))
        heel = float("nan") if rest is None else np.degrees(np.arctan2(abs(rest.up[1]), abs(rest.up[2])))
        found.append(near(heel, row["heel[deg]"], 1e-4, f"relative density {s:g}"))
    return found


def _box(row: dict[str, float]) -> tuple[float, list[float]]:
    """GM [m], and GZ [m] at 1, 10, 20 and 30 degrees."""
    body = homogeneous(box([3.0, 1.0, 0.6]), 0.5)
    body = replace(body, cm=np.array([0.0, 0.0, -row["centre_below_middle[m]"]]))
    arms = [righting_arm(body, UP, ALONG, np.radians(a)) for a in (1, 10, 20, 30)]
    return metacentric_height(body, UP, ALONG), arms


def _box_gm() -> list[Compared]:
    rows = _numbers("floating_box_righting_arm")
    return [near(_box(r)[0], r["GM[m]"], 1e-7, f"CM {r['centre_below_middle[m]']:g} m down") for r in rows]


def _box_gz() -> list[Compared]:
    found = []
    for row in _numbers("floating_box_righting_arm"):
        for angle, arm in zip((1, 10, 20, 30), _box(row)[1], strict=True):
            case = f"CM {row['centre_below_middle[m]']:g} m down, {angle}°"
            found.append(near(arm, row[f"GZ_{angle}deg[m]"], 1e-8, case))
    return found


@cache
def _ball(points: int) -> Mesh:
    return ellipsoid([0.5, 0.5, 0.5], rings=points // 2, points=points)


def _ball_quantities(points: int, level: float) -> Floats:
    cut = immersion(_ball(points), UP, level)
    return np.array([cut.volume, cut.centroid[2], cut.area, 0.5 * (cut.area_second[0, 0] + cut.area_second[1, 1])])


def _sphere() -> list[Compared]:
    """Two meshes carried on at second order (Richardson) to the true ball."""
    found = []
    for row in _numbers("floating_sphere_cap"):
        coarse, fine = (_ball_quantities(n, row["depth[m]"] - 0.5) for n in (160, 320))
        for ours, column in zip((4.0 * fine - coarse) / 3.0, SPHERE_COLUMNS, strict=True):
            found.append(near(ours / row[column], 1.0, CARRIED, f"{column.split('[')[0]}, {row['depth[m]']:g} m"))
    return found


def _rod_mesh(sides: int) -> Mesh:
    """Cylinder 1 m thick and 2 m long with ``sides`` flat sides along x, its corners on the circle."""
    rings = [np.column_stack([np.full(sides, x), 0.5 * circle(sides)]) for x in (-1.0, 1.0)]
    middles = [np.repeat([[r[0, 0], 0.0, 0.0]], sides, axis=0) for r in rings]
    return loft(np.array([middles[0], *rings, middles[1]]))


def _rod() -> list[Compared]:
    """512 sides fall short of the circle by (2/3) (pi / 512)^2 = 2.5e-5 of its area."""
    found, mesh = [], _rod_mesh(512)
    for row in _numbers("floating_lying_cylinder"):
        cut = immersion(mesh, UP, row["depth[m]"] - 0.5)
        pairs = (
            (cut.volume / row["volume[m3]"], "volume"), (cut.centroid[2] / row["centre[m]"], "centre"),
            (cut.area / (2.0 * row["breadth[m]"]), "waterplane"),
        )  # fmt: skip
        found += [near(ours, 1.0, 1e-4, f"{name}, {row['depth[m]']:g} m") for ours, name in pairs]
    return found


def _rod_from(density: float, at: Floats) -> FloatingBody:
    """A thin rod ROD long that hangs down from ``at`` (3,)."""
    mesh = box([THIN, THIN, ROD], at - [0.0, 0.0, 0.5 * ROD])
    mass = density * 1000.0 * THIN * THIN * ROD
    return floating_body([hull_of(mesh)], mass, at - [0.0, 0.0, 0.5 * ROD], density=1000.0, gravity=9.80665)


def _hinged_rods() -> list[Compared]:
    """Hung from a raft of 16 m^2, which a rod moves by less than 0.03 mm; 2 cm of 1.2 m of thickness are left out."""
    found = []
    for above in (0.1, 0.3):
        raft = homogeneous(box([4.0, 4.0, 0.2], [0.0, 0.0, -above]), 0.5)
        for s in (0.3, 0.6, 0.85):
            hinge = Joint("hinge", 0, 1, np.array([0.0, 1.0, 0.0]), np.zeros(3), -np.pi, np.pi)
            body = articulated([raft, _rod_from(s, np.zeros(3))], [hinge])
            rest = limp_from(body, UP, np.array([0.4]), held=True)
            lean = float("nan") if rest is None else np.degrees(abs(rest.angles[0]))
            exact = np.degrees(np.arccos(min(1.0, above / (ROD * np.sqrt(1.0 - s)))))
            found.append(near(lean, exact, 0.05, f"relative density {s:g}, {above:g} m up"))
    return found


def _hung_rods() -> list[Compared]:
    found = []
    for s1, s2 in ((0.3, 1.5), (0.4, 1.4), (0.1, 1.8)):
        end = np.array([0.0, 0.0, -ROD])
        hinge = Joint("hinge", 0, 1, np.array([0.0, 1.0, 0.0]), end, -np.pi, np.pi)
        body = articulated([_rod_from(s1, np.zeros(3)), _rod_from(s2, end)], [hinge])
        rest = limp_from(body, np.array([0.2, 0.1, 1.0]), np.array([0.5]))
        under = float("nan") if rest is None else ROD + rest.level
        found.append(near(under, ROD * (s1 + s2 - 1.0), 1e-6, f"densities {s1:g} and {s2:g}"))
    return found


def _ball_errors(points: int) -> Floats:
    """Relative errors of half a ball: 2/3 pi r^3, 3/8 r, pi r^2, pi r^4 / 4."""
    exact = np.array([np.pi / 12.0, -0.1875, 0.25 * np.pi, np.pi / 64.0])
    return np.asarray(np.abs(_ball_quantities(points, 0.0) / exact - 1.0))


def _rod_errors(sides: int) -> Floats:
    """Errors of half a cylinder: volume pi r^2 L / 2, centre 4 r / (3 pi)."""
    cut = immersion(_rod_mesh(sides), UP, 0.0)
    return np.abs([0.25 * np.pi - cut.volume, 2.0 / (3.0 * np.pi) + cut.centroid[2]])


def _order(errors: Callable[[int], Floats]) -> list[Compared]:
    coarse, fine = errors(48), errors(96)
    # 0.1 for what the next order adds at these sizes
    return [near(float(o), 2.0, 0.1, f"quantity {i + 1}") for i, o in enumerate(np.log2(coarse / fine))]
