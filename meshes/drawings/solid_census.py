"""What a mesh file comes to when all its instances are placed, counted before a library builds them."""

from __future__ import annotations

import json
import struct
import zipfile
from collections import defaultdict
from collections.abc import Callable
from io import BytesIO
from typing import Any, Final

from meshes.drawings.shape_file import ShapeFileError
from meshes.drawings.xml_walk import walked

MOST_TRIANGLES: Final = 1_000_000
MOST_CORNERS: Final = 3 * MOST_TRIANGLES
MOST_PARTS: Final = 2_000  # placed bodies
MOST_XML: Final = 500_000  # elements of a 3MF, each an object to the library: two of three are triangles; 0.8 GB
MOST_UNZIPPED: Final = 150_000_000  # bytes
MOST_JSON: Final = 4_000_000  # bytes
GLTF_PARTS: Final = ("nodes", "meshes", "accessors", "bufferViews", "buffers", "scenes")


def check_3mf(data: bytes, file: str) -> bytes:
    """The models of a 3MF by themselves, zipped anew.

    Raises ShapeFileError when they unzip to too much, hold too many elements, or place too many bodies or triangles.
    """
    with zipfile.ZipFile(BytesIO(data)) as archive:
        entries = [entry for entry in archive.infolist() if entry.filename.lower().endswith(".model")]
        unzipped = sum(entry.file_size for entry in entries)
        if unzipped > MOST_UNZIPPED or len(entries) > MOST_PARTS:
            raise ShapeFileError(
                f"{file}: {unzipped / 1e6:.0f} MB in {len(entries)} models when unzipped, at most "
                f"{MOST_UNZIPPED / 1e6:.0f} MB in {MOST_PARTS} are read; export with a coarser tolerance"
            )
        models = {entry.filename: archive.read(entry) for entry in entries}
    _check_models(models, file)
    alone = BytesIO()
    with zipfile.ZipFile(alone, "w") as archive:
        for name, model in models.items():
            archive.writestr(name, model)
    return alone.getvalue()


def _check_models(models: dict[str, bytes], file: str) -> None:
    """Count what is placed: bodies and triangles of each object with its components, over all items of the build."""
    triangles: dict[str, int] = defaultdict(int)
    parts: dict[str, list[str]] = defaultdict(list)
    built: list[str] = []
    total, at = 0, ""

    def opened(name: str, attributes: dict[str, str]) -> None:
        nonlocal total, at
        total += 1
        if total > MOST_XML:
            raise ShapeFileError(f"{file}: more than {MOST_XML} elements; export as STL, or with a coarser tolerance")
        if name == "object":
            at = attributes.get("id", "")
        elif name == "triangle":
            triangles[at] += 1
        elif name == "component":
            parts[at].append(attributes.get("objectid", ""))
        elif name == "item":
            built.append(attributes.get("objectid", ""))

    for model in models.values():
        walked(model, opened, lambda: None, file)
    known: dict[str, tuple[int, int]] = {}
    placed = [_placed(item, triangles, parts, known, file) for item in built]
    _check_placed(sum(n for n, _ in placed), sum(t for _, t in placed), file)


def _placed(
    item: str, triangles: dict[str, int], parts: dict[str, list[str]], known: dict[str, tuple[int, int]], file: str
) -> tuple[int, int]:
    """Bodies and triangles of an object with all that it is made of; each object is counted once."""
    if item not in known:
        known[item] = (MOST_PARTS + 1, 0)  # what it counts for inside itself: too much
        within = [_placed(part, triangles, parts, known, file) for part in parts.get(item, ())]
        known[item] = 1 + sum(n for n, _ in within), triangles.get(item, 0) + sum(t for _, t in within)
    return known[item]


def check_glb(data: bytes, file: str) -> None:
    """Raise ShapeFileError when a GLB places too much, claims more than it holds, or would open another file."""
    if len(data) < 20:
        raise ShapeFileError(f"{file}: the file is cut short; export it again")
    length = struct.unpack("<I", data[12:16])[0]
    if length > MOST_JSON:
        raise ShapeFileError(f"{file}: its description has {length / 1e6:.0f} MB; export one solid as STL")
    tree = json.loads(data[20 : 20 + length])
    if not isinstance(tree, dict):
        raise ShapeFileError(f"{file}: its description is not that of a GLB; export it again")
    if any("uri" in part for kind in ("buffers", "images") for part in tree.get(kind, ()) if isinstance(part, dict)):
        raise ShapeFileError(f"{file}: it refers to other files, which are not opened; export it as one GLB")
    _check_placed(max(len(tree.get(kind, ())) for kind in GLTF_PARTS), 0, file)
    held = [int(accessor.get("count", 0)) for accessor in tree.get("accessors", ())]
    if min(held, default=0) < 0 or sum(held) > 8 * MOST_CORNERS:  # positions, normals, colours, ... of each corner
        raise ShapeFileError(f"{file}: it claims {sum(held)} numbers; export the solid alone, as STL")
    sizes = [sum(_corners(p, held) for p in mesh["primitives"]) for mesh in tree.get("meshes", ())]
    _check_placed(sum(len(mesh["primitives"]) for mesh in tree.get("meshes", ())), sum(sizes) // 3, file)
    paths = _paths(tree.get("nodes", ()), file)
    bodies = [(paths[k], node["mesh"]) for k, node in enumerate(tree.get("nodes", ())) if "mesh" in node]
    _check_placed(sum(paths), sum(n * sizes[mesh] for n, mesh in bodies) // 3, file)


def _corners(primitive: dict[str, Any], held: list[int]) -> int:
    accessor: int = primitive["indices"] if "indices" in primitive else primitive["attributes"]["POSITION"]
    return held[accessor]


def _paths(nodes: Any, file: str) -> list[int]:
    """On how many ways each node is reached from those that are nobody's child."""
    waiting = [0] * len(nodes)
    for node in nodes:
        for child in node.get("children", ()):
            waiting[child] += 1
    paths = [int(count == 0) for count in waiting]
    ready = [k for k, count in enumerate(waiting) if count == 0]
    while ready:
        k = ready.pop()
        for child in nodes[k].get("children", ()):
            paths[child] += paths[k]
            waiting[child] -= 1
            if waiting[child] == 0:
                ready.append(child)
    if any(waiting):
        raise ShapeFileError(f"{file}: a part is placed inside itself; export the solid alone, as STL")
    return paths


def check_ply(data: bytes, file: str) -> None:
    """Raise ShapeFileError when a PLY's header claims more than the file can hold."""
    head, found, _ = data[:100_000].partition(b"end_header")
    words = [line.split() for line in head.splitlines()]
    counts = [int(line[2]) for line in words if len(line) == 3 and line[0] == b"element"]
    if not found or any(not 0 <= count <= len(data) for count in counts) or len(words) > 1_000:
        raise ShapeFileError(f"{file}: its header is not that of a PLY of {len(data)} bytes; export it again")
    _check_placed(len(counts), sum(counts) // 2, file)


def check_obj(data: bytes, file: str) -> None:
    """Raise ShapeFileError when an OBJ has more faces, points or parts than are read."""
    parts = sum(data.count(word) for word in (b"usemtl", b"\no ", b"\ng "))
    _check_placed(parts, max(data.count(b"\nf"), data.count(b"\nv") // 3), file)


def check_stl(data: bytes, file: str) -> None:
    """Raise ShapeFileError when an STL in words has more triangles or solids than are read."""
    _check_placed(data.count(b"endsolid"), data.count(b"vertex") // 3, file)


def _check_placed(parts: int, triangles: int, file: str) -> None:
    if parts > MOST_PARTS:
        raise ShapeFileError(
            f"{file}: it is made of more than {MOST_PARTS} parts; unite them in the program that drew them and "
            "export one solid"
        )
    check_triangles(triangles, file)


def check_triangles(count: int, file: str) -> None:
    """Raise ShapeFileError when there are too many triangles."""
    if count > MOST_TRIANGLES:
        found = str(count) if count < 10**12 else "billions of"
        raise ShapeFileError(
            f"{file}: {found} triangles, at most {MOST_TRIANGLES} are read; export with a coarser tolerance, 0.1 mm "
            "is plenty"
        )


CHECKS: Final[dict[str, Callable[[bytes, str], None]]] = {
    ".glb": check_glb,
    ".ply": check_ply,
    ".obj": check_obj,
    ".stl": check_stl,
}
