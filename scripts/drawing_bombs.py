# ruff: noqa: E501
"""Small files that come to much when they are expanded, of random depth and width."""

from __future__ import annotations

import io
import json
import struct
import zipfile

import numpy as np
from drawing_seeds import BOLTS, CORNERS, SVG

Bomb = tuple[str, bytes]
MODEL = (
    '<?xml version="1.0"?><model unit="millimeter" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
    "<resources>{}</resources><build>{}</build></model>"
)
TETRAHEDRON = '<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="100" y="0" z="0"/><vertex x="0" y="100" z="0"/><vertex x="0" y="0" z="100"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="2" v2="0" v3="3"/></triangles></mesh>'


def size(rng: np.random.Generator, low: float, high: float) -> int:
    """A whole number between, as likely in each tenfold."""
    return int(low * (high / low) ** rng.random())


def records(*pairs: tuple[object, object]) -> str:
    """DXF tags as text."""
    return "".join(f"{code}\n{value}\n" for code, value in pairs)


def dxf(entities: str, blocks: str = "") -> Bomb:
    """A DXF of these records in millimetres, with the plate of the sound seeds around them."""
    plate = "".join(
        records((0, "LINE"), (8, "0"), (10, x), (20, y), (11, u), (21, v))
        for (x, y), (u, v) in zip(CORNERS, CORNERS[1:] + CORNERS[:1], strict=True)
    ) + "".join(records((0, "CIRCLE"), (8, "0"), (10, x), (20, y), (40, 4.75)) for x, y in BOLTS)
    head = records((0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (0, "ENDSEC"))
    inner = records((0, "SECTION"), (2, "BLOCKS")) + blocks + records((0, "ENDSEC")) if blocks else ""
    return ".dxf", (
        head
        + inner
        + records((0, "SECTION"), (2, "ENTITIES"))
        + plate
        + entities
        + records((0, "ENDSEC"), (0, "EOF"))
    ).encode()


def block(name: str, body: str) -> str:
    """A DXF block."""
    return records((0, "BLOCK"), (8, "0"), (2, name), (70, 0), (10, 0), (20, 0)) + body + records((0, "ENDBLK"))


def insert(name: str, columns: int = 1, rows: int = 1, apart: float = 1.0) -> str:
    """A DXF reference to a block, as an array."""
    return records(
        (0, "INSERT"), (8, "0"), (2, name), (10, 1), (20, 1), (70, columns), (71, rows), (44, apart), (45, apart)
    )


def nested_blocks(rng: np.random.Generator) -> Bomb:
    depth, width = int(rng.integers(1, 40)), size(rng, 1, 30)
    blocks = block("B0", records((0, "CIRCLE"), (8, "0"), (10, 140), (20, 200), (40, 1)))
    for k in range(depth):
        blocks += block(f"B{k + 1}", insert(f"B{k if rng.random() < 0.98 else depth}") * width)
    return dxf(insert(f"B{depth}"), blocks)


def block_array(rng: np.random.Generator) -> Bomb:
    body = records((0, "CIRCLE"), (8, "0"), (10, 0), (20, 0), (40, 0.1)) * size(rng, 1, 1000)
    return dxf(insert("B", size(rng, 1, 32767), size(rng, 1, 32767)), block("B", body))


def long_polyline(rng: np.random.Generator) -> Bomb:
    n = size(rng, 1e3, 4e5)
    a = np.linspace(0, 2 * np.pi, n, endpoint=False)
    r = 20 + rng.choice([0.0, 1e-3, 0.1, 15.0]) * np.sin(rng.choice([7, n // 2, n / 3]) * a)
    if rng.random() < 0.3:
        r = 1 + 100 * a
    body = "".join(
        f"10\n{140 + x:.7g}\n20\n{200 + y:.7g}\n" for x, y in zip(r * np.cos(a), r * np.sin(a), strict=True)
    )
    return dxf(
        records((0, "LWPOLYLINE"), (100, "AcDbEntity"), (8, "0"), (100, "AcDbPolyline"), (90, n), (70, 1)) + body
    )


def crossing_lines(rng: np.random.Generator) -> Bomb:
    n, slant = size(rng, 10, 8000), float(rng.choice([0, 1, 100]))
    across = "".join(
        records((0, "LINE"), (8, "0"), (10, 1), (20, y), (11, 279), (21, y + slant)) for y in np.linspace(70, 270, n)
    )
    up = "".join(
        records((0, "LINE"), (8, "0"), (10, x), (20, 61), (11, x), (21, 390)) for x in np.linspace(2, 278, n)
    )
    return dxf(across + (up if rng.random() < 0.7 else ""))


def great_curves(rng: np.random.Generator) -> Bomb:
    body = ""
    for _ in range(size(rng, 1, 3000)):
        body += records((0, "CIRCLE"), (8, "0"), (10, 140), (20, 200), (40, 10.0 ** rng.uniform(-3, 6.1)))
    turn = 10.0 ** rng.uniform(0, 12)
    body += records((0, "ARC"), (8, "0"), (10, 140), (20, 200), (40, 9), (50, 0), (51, turn))
    body += records((0, "ELLIPSE"), (8, "0"), (10, 140), (20, 200), (11, 9), (21, 0), (40, 0.5), (41, 0), (42, turn))
    return dxf(body)


def odd_spline(rng: np.random.Generator) -> Bomb:
    degree, n = size(rng, 1, 300), size(rng, 2, 20_000)
    knots = "".join(f"40\n{k:.6g}\n" for k in np.sort(rng.integers(0, 50, n + degree + 1)))
    points = "".join(f"10\n{x:.6g}\n20\n{y:.6g}\n30\n0\n" for x, y in rng.uniform(50, 250, (n, 2)))
    head = records(
        (0, "SPLINE"),
        (100, "AcDbEntity"),
        (8, "0"),
        (100, "AcDbSpline"),
        (70, 8),
        (71, degree),
        (72, n + degree + 1),
        (73, n),
    )
    return dxf(head + knots + points)


def many_records(rng: np.random.Generator) -> Bomb:
    kind = rng.choice(["POINT", "LINE", "CIRCLE", "VERTEX", "TEXT", "HATCH", "XRECORD", "SOLID", "INSERT"])
    return dxf(f"0\n{kind}\n" * size(rng, 100, 500_000))


def many_holes(rng: np.random.Generator) -> Bomb:
    n, small = size(rng, 2, 120), rng.random() < 0.5
    body = "".join(
        records(
            (0, "CIRCLE"),
            (8, f"layer {x}" * 20),
            (10, 5 + 270 * x / n),
            (20, 5 + 390 * y / n),
            (40, min(2.6 if small else 4.0, 130 / n)),
        )
        for x in range(n)
        for y in range(n)
    )
    return dxf(body)


def nested_use(rng: np.random.Generator) -> Bomb:
    depth, width = int(rng.integers(1, 30)), size(rng, 1, 20)
    prefix = str(rng.choice(["", "s:"]))
    body = f'<{prefix}g id="a0"><{prefix}path d="M0 0 H2 V2 Z"/></{prefix}g>'
    for k in range(depth):
        target = k if rng.random() < 0.98 else depth
        body += f'<{prefix}g id="a{k + 1}">' + f'<{prefix}use href="#a{target}" x="1"/>' * width + f"</{prefix}g>"
    text = f'<{prefix}svg xmlns{":s" if prefix else ""}="http://www.w3.org/2000/svg" width="280mm" height="400mm" viewBox="0 0 280 400">{body}</{prefix}svg>'
    return ".svg", text.encode()


def heavy_svg(rng: np.random.Generator) -> Bomb:
    n = size(rng, 10, 3e5)
    kinds = (
        '<path d="M0 0' + " l1 1" * n + '"/>',
        '<path d="M0 0' + "a1 1 0 011 1" * n + 'z"/>',
        '<path d="M0 0' + "1" * n + '"/>',
        '<path d="M0 0' + "e" * n + '"/>',
        '<path d="M0 0' + " " * n + 'x"/>',
        f'<g transform="{"rotate(1) " * n}">' + '<rect width="9" height="9"/>' * size(rng, 1, 1e4) + "</g>",
        f'<g transform="{"scale(2" * n}"/>',
        "<g>" * n + "</g>" * n,
        '<g d="M0 0' + "h1" * n + '">' + "<path/>" * size(rng, 1, 1e4) + "</g>",
        '<rect width="9" height="9"/>' * n,
        f'<style>{".a{fill:red}" * n}</style><rect class="{"a " * size(rng, 1, 1e5)}" width="9" height="9"/>',
        f"<style>{'/*' * n}</style>",
        f'<circle cx="140" cy="200" r="{"9" * min(n, 400)}"/>',
        f'<image href="data:image/png;base64,{"A" * n}"/><text>{"x" * n}</text>',
        f'<rect style="{"a:b;" * n}" width="9" height="9" fill="{"rgb(" * n}"/>',
        f'<path stroke-dasharray="{"1 " * n}" d="M{10.0 ** rng.uniform(0, 300):.9g} 0 C 1e9 1e9 -1e9 1e9 0 0 A 1e300 1e300 0 1 1 9 9 Z"/>',
    )
    return ".svg", SVG.format('<rect width="280" height="400"/>' + kinds[rng.integers(len(kinds))]).encode()


def entities(rng: np.random.Generator) -> Bomb:
    lines = "".join(f'<!ENTITY e{k + 1} "{f"&e{k};" * 10}">' for k in range(int(rng.integers(1, 12))))
    kinds = (
        f'<!DOCTYPE svg [<!ENTITY e0 "x">{lines}]>',
        '<!DOCTYPE svg [<!ENTITY e1 SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE svg SYSTEM "http://localhost/x.dtd">',
    )
    head, body = kinds[rng.integers(3)], SVG.format('<rect width="280" height="400"/><text>&e1;</text>')
    if rng.random() < 0.5:
        return ".svg", (head + body).encode(str(rng.choice(["utf-8", "utf-16"])))
    return zipped(
        {
            "3D/3dmodel.model": (
                head + MODEL.format(f'<object id="1">{TETRAHEDRON}</object>&e1;', '<item objectid="1"/>')
            ).encode()
        }
    )


def zipped(entries: dict[str, bytes]) -> Bomb:
    """A 3MF of these entries."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return ".3mf", stream.getvalue()


def nested_components(rng: np.random.Generator) -> Bomb:
    depth, width = int(rng.integers(1, 40)), size(rng, 1, 20)
    body = f'<object id="0">{TETRAHEDRON}</object>'
    for k in range(depth):
        target = k if rng.random() < 0.98 else depth
        moved = f'<component objectid="{target}" transform="1 0 0 0 1 0 0 0 1 {int(rng.integers(300))} 0 0"/>'
        body += f'<object id="{k + 1}"><components>{moved * width}</components></object>'
    return zipped({"3D/3dmodel.model": MODEL.format(body, f'<item objectid="{depth}"/>' * size(rng, 1, 50)).encode()})


def heavy_3mf(rng: np.random.Generator) -> Bomb:
    n = size(rng, 10, 1e6)
    kinds = (
        (TETRAHEDRON.replace("</triangles>", '<triangle v1="0" v2="1" v3="2"/>' * n + "</triangles>"), 1),
        (TETRAHEDRON.replace("</vertices>", '<vertex x="1" y="nan" z="1e400"/>' * n + "</vertices>"), 1),
        (TETRAHEDRON * min(n, 50_000), 1),
        ("<metadata>" + " " * 100 * n, 1),
        (TETRAHEDRON, min(n, 300_000)),
    )
    body, items = kinds[rng.integers(len(kinds))]
    model = MODEL.format(f'<object id="1">{body}</object>', '<item objectid="1"/>' * items).encode()
    return zipped({"3D/3dmodel.model": model, "x": b"0" * size(rng, 1, 1e8)})


def glb(tree: dict[str, object], data: bytes) -> Bomb:
    """A GLB of a description and its one buffer."""
    words = json.dumps(tree).encode()
    words += b" " * (-len(words) % 4)
    head = struct.pack("<4sII", b"glTF", 2, 28 + len(words) + len(data))
    return ".glb", head + struct.pack("<I4s", len(words), b"JSON") + words + struct.pack(
        "<I4s", len(data), b"BIN\0"
    ) + data


def heavy_glb(rng: np.random.Generator) -> Bomb:
    points = np.array([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)], dtype="<f4") * 100
    faces = np.array([(0, 2, 1), (0, 1, 3), (1, 2, 3), (2, 0, 3)] * size(rng, 1, 2e5), dtype="<u4")
    data = points.tobytes() + faces.tobytes()
    count = int(faces.size if rng.random() < 0.7 else size(rng, 1, 1e12))
    n = size(rng, 1, 2e4)
    tree: dict[str, object] = {
        "asset": {"version": "2.0"},
        "buffers": [{"byteLength": len(data)} if rng.random() < 0.8 else {"byteLength": 9, "uri": "beside.bin"}],
        "bufferViews": [{"buffer": 0, "byteLength": 48}, {"buffer": 0, "byteOffset": 48, "byteLength": faces.nbytes}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": 4, "type": "VEC3"},
            {"componentType": 5125, "count": count, "type": "SCALAR"}
            | ({"bufferView": 1} if rng.random() < 0.8 else {}),
        ],
        "meshes": [
            {"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}] * (n if rng.random() < 0.2 else 1)}
        ],
        "nodes": [{"mesh": 0} for _ in range(n)],
        "scenes": [{"nodes": list(range(n))}],
        "scene": 0,
    }
    if rng.random() < 0.4:
        deep = int(rng.integers(2, 60))
        tree["nodes"] = [{"children": [k + 1] * int(rng.integers(1, 4))} for k in range(deep)] + [{"mesh": 0}]
        tree["scenes"] = [{"nodes": [0]}]
    if rng.random() < 0.1:
        return ".glb", glb({}, b"")[1][:20] + b"[" * 100_000
    return glb(tree, data)


def heavy_mesh(rng: np.random.Generator) -> Bomb:
    n = size(rng, 10, 4e5)
    soup = rng.uniform(0, rng.choice([1e-9, 1.0, 1e3]), (n, 3, 3)).astype("<f4") * rng.choice([1, 1e30])
    rows = np.zeros(n, dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    rows["corners"] = soup
    if rng.random() < 0.5:  # tetrahedra by the thousand, across one another or not
        four = np.array([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)]) * 10.0 ** rng.uniform(0, 2.5)
        corners = four[[(0, 2, 1), (0, 1, 3), (1, 2, 3), (2, 0, 3)]]
        rows = rows[: 4 * max(1, n // 40)]
        rows["corners"] = (corners + rng.uniform(0, 300, (len(rows) // 4, 1, 1, 3))).reshape(-1, 3, 3)
    claimed = len(rows) if rng.random() < 0.8 else size(rng, 1, 4e9)
    return ".stl", b"\0" * 80 + struct.pack("<I", claimed) + rows.tobytes()


def heavy_text_mesh(rng: np.random.Generator) -> Bomb:
    n = size(rng, 10, 5e5)
    kinds = (
        (".obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\n" + "usemtl a\nf 1 2 3\nusemtl b\nf 1 2 3\n" * n),
        (".obj", "mtllib beside.mtl\nv 0 0 0\nv 1 0 0\nv 0 1 0\n" + "f 1 2 3\n" * n),
        (".obj", "v 0 0 0\n" * n + "f" + " 1" * n + "\n"),
        (".obj", "v 0 0 0\nv 9 0 0\nv 0 9 0\n" + "f 1 2 3 1\nf 1/1/1 2/2/2 3/3/3\n" * n),
        (".obj", "v 0 0 0\nv 9 0 0\nv 0 9 0\n" + "o a\nf -1 -2 -3\n" * n),
        (".obj", "v 1e400 nan inf\n" * n + "f 1 2 99999999999\n"),
        (
            ".stl",
            "solid a\n"
            + "facet normal 0 0 0\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 nan\nendloop\nendfacet\n" * n
            + "endsolid",
        ),
        (".stl", "solid a\nfacet\nendsolid a\n" * n),
        (
            ".ply",
            f"ply\nformat ascii 1.0\nelement vertex {n}\nproperty float x\nproperty float y\nproperty float z\nelement face {n}\nproperty list int int vertex_indices\nend_header\n"
            + "0 0 0\n" * n
            + "3 0 1 2\n" * n,
        ),
        (
            ".ply",
            f"ply\nformat binary_little_endian 1.0\nelement vertex {10 * n}\nproperty float x\nelement face {n}\nproperty list int int vertex_indices\nend_header\n"
            + "\xff" * n,
        ),
        (
            ".ply",
            f"ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list int int vertex_indices\nend_header\n0 0 0\n1 0 0\n0 1 0\n{n}"
            + " 0" * n
            + "\n",
        ),
    )
    kind, text = kinds[rng.integers(len(kinds))]
    return kind, text.encode("latin-1")


BOMBS = (
    nested_blocks, block_array, long_polyline, crossing_lines, great_curves, odd_spline, many_records, many_holes,
    nested_use, heavy_svg, heavy_svg, entities, nested_components, heavy_3mf, heavy_glb, heavy_mesh, heavy_text_mesh,
)  # fmt: skip
