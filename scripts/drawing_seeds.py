"""Small sound drawings and solids of every kind that is read, to be spoilt."""

from __future__ import annotations

import io
from functools import cache

import numpy as np

CORNERS = [(0, 0), (280, 0), (280, 400), (0, 400)]
BOLTS = [(140, 339.5), (140, 60.5)]
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'width="280mm" height="400mm" viewBox="0 0 280 400">{}</svg>'
)


@cache
def seeds() -> list[tuple[str, bytes]]:
    """(ending, bytes) of each; all make a plate."""
    return [*_dxf(), *_svg(), *_solids()]


def _dxf() -> list[tuple[str, bytes]]:
    import ezdxf

    files = []
    for version in ("R12", "R2000"):
        document = ezdxf.new(version)
        document.units = 4
        block = document.blocks.new("HOLE")
        block.add_circle((0, 0), 4.75)
        space = document.modelspace()
        if version == "R12":
            space.add_polyline2d(CORNERS, close=True)
        else:
            space.add_lwpolyline([(*p, 0.0) for p in CORNERS], format="xyb", close=True)
            space.add_ellipse((70, 200), major_axis=(30, 0), ratio=0.4)
            space.add_open_spline([(200, 180), (200, 230), (250, 230), (250, 180)])
            space.add_line((200, 180), (250, 180))
        space.add_arc((70, 300), 20, 0, 180)
        space.add_line((50, 300), (90, 300))
        for place in BOLTS:
            space.add_blockref("HOLE", place)
        stream = io.StringIO()
        document.write(stream)
        files.append((".dxf", stream.getvalue().encode()))
    # the same with nothing but entities, as small programs write them
    records = [("0", "SECTION"), ("2", "ENTITIES")]
    for (x, y), (u, v) in zip(CORNERS, CORNERS[1:] + CORNERS[:1], strict=True):
        records += [("0", "LINE"), ("8", "0"), ("10", x), ("20", y), ("11", u), ("21", v)]
    for x, y in BOLTS:
        records += [("0", "CIRCLE"), ("8", "0"), ("10", x), ("20", y), ("40", 4.75)]
    records += [("0", "ENDSEC"), ("0", "EOF")]
    plain = "".join(f"{code}\n{value}\n" for code, value in records).encode()
    return [*files, *[(".dxf", plain)] * 2]


def _svg() -> list[tuple[str, bytes]]:
    bolts = "".join(f'<circle cx="{x}" cy="{y}" r="4.75"/>' for x, y in BOLTS)
    shapes = (
        '<rect width="280" height="400" rx="9"/>' + bolts,
        '<path d="M0 0H280V400H0Z M50 100 a20 10 30 0 1 40 0 z '
        'M 200 200 C 200 180 240 180 240 200 S 200 220 200 200 Z"/>' + bolts,
        '<style>.a{fill:none}</style><defs><circle id="h" r="4.75"/></defs>'
        '<polygon class="a" points="0,0 280,0 280,400 0,400"/>'
        + "".join(f'<use xlink:href="#h" x="{x}" y="{y}"/>' for x, y in BOLTS)
        + '<g transform="rotate(10 140 200) scale(2)"><ellipse cx="70" cy="100" rx="20" ry="9"/></g>',
    )
    return [(".svg", SVG.format(body).encode()) for body in shapes]


def _solids() -> list[tuple[str, bytes]]:
    import trimesh

    holes = [
        [(x - 4.7 * np.cos(a), y + 4.7 * np.sin(a)) for a in np.linspace(0, 2 * np.pi, 12, endpoint=False)]
        for x, y in BOLTS
    ]
    import shapely

    flat = trimesh.creation.extrude_polygon(shapely.Polygon(CORNERS, holes), 3.0, engine="manifold")
    turned = trimesh.Trimesh(flat.vertices[:, [1, 0, 2]] * [1, -1, 1], flat.faces, process=False)
    kinds = [
        ("stl", {}),
        ("stl_ascii", {}),
        ("obj", {}),
        ("ply", {}),
        ("ply", {"encoding": "ascii"}),
        ("3mf", {}),
        ("glb", {}),
    ]
    files = []
    for kind, how in kinds:
        body = trimesh.Scene([turned]) if kind in ("3mf", "glb") else turned
        data = body.export(file_type=kind, **how)
        files.append(("." + kind[:3], data.encode() if isinstance(data, str) else bytes(data)))
    return files
