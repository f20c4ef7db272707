"""Drawings that once crashed, grew or opened other files: refused in one line, or answered, and quickly either way.

The files in ``drawings/`` are the smallest that showed something; ``scripts/attack_drawings.py`` looks for more.
"""

import io
import json
import logging
import struct
import sys
import zipfile
from collections.abc import Callable, Iterator
from functools import partial
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from meshes.drawings.outline_import import read_outline
from meshes.drawings.shape_file import ShapeFileError
from meshes.drawings.solid_import import read_solid
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from meshes.plate.from_drawing import plate_from_drawing, plate_from_solid_file
from meshes.plate.sheet import polygon_of

CORPUS = sorted((Path(__file__).parent / "drawings").glob("*.*"))
PAGE = 'width="280mm" height="400mm" viewBox="0 0 280 400"'
TETRAHEDRON = np.array([(0, 0, 0), (100, 0, 0), (0, 100, 0), (0, 0, 100)], dtype="<f4")
FACES = np.array([(0, 2, 1), (0, 1, 3), (1, 2, 3), (2, 0, 3)], dtype="<u4")
opened: list[str] = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event in ("open", "socket.connect") else None)


@pytest.fixture(autouse=True)
def quiet(caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]) -> Iterator[None]:
    """Nothing that a library logs or prints reaches whoever reads a drawing."""
    caplog.set_level(logging.DEBUG)
    yield
    assert not caplog.get_records("call")
    assert capfd.readouterr() == ("", "")


def refusal(file: Path) -> str:
    """The message with which a plate from this file is refused: one line, short enough to be read."""
    build: Callable[..., Plate] = partial(plate_from_solid_file, up="+x", away="+z")
    if file.suffix in (".dxf", ".svg"):
        build = partial(plate_from_drawing, thickness=0.003)
    with pytest.raises(ShapeFileError) as caught:
        build(file, density=2700.0, unit="mm")
    words = str(caught.value)
    assert words.startswith(file.name)
    assert len(words.splitlines()) == 1
    assert len(words) < 1_000
    return words


def tags(*pairs: tuple[int, object]) -> str:
    return "".join(f"{code}\n{value}\n" for code, value in pairs)


def line(x: float, y: float, u: float, v: float, layer: str = "0") -> str:
    return tags((0, "LINE"), (8, layer), (10, x), (20, y), (11, u), (21, v))


def dxf(folder: Path, entities: str, blocks: str = "") -> Path:
    head = tags((0, "SECTION"), (2, "BLOCKS")) + blocks + tags((0, "ENDSEC")) if blocks else ""
    body = tags((0, "SECTION"), (2, "ENTITIES")) + entities + tags((0, "ENDSEC"), (0, "EOF"))
    (folder / "plate.dxf").write_text(head + body, encoding="ascii")
    return folder / "plate.dxf"


def svg(folder: Path, body: str) -> Path:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:s="http://www.w3.org/2000/svg" {PAGE}>{body}</svg>'
    (folder / "plate.svg").write_text(text, encoding="utf-8")
    return folder / "plate.svg"


def glb(folder: Path, nodes: list[dict[str, object]], **changed: object) -> Path:
    data = TETRAHEDRON.tobytes() + FACES.tobytes()
    tree = {
        "asset": {"version": "2.0"},
        "buffers": [{"byteLength": len(data)}],
        "bufferViews": [{"buffer": 0, "byteLength": 48}, {"buffer": 0, "byteOffset": 48, "byteLength": 48}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": 4, "type": "VEC3"},
            {"bufferView": 1, "componentType": 5125, "count": 12, "type": "SCALAR"},
        ],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "nodes": nodes,
        "scenes": [{"nodes": [0]}],
        "scene": 0,
        **changed,
    }
    words = json.dumps(tree).encode()
    words += b" " * (-len(words) % 4)
    head = struct.pack("<4sII", b"glTF", 2, 28 + len(words) + len(data))
    chunks = struct.pack("<I4s", len(words), b"JSON") + words + struct.pack("<I4s", len(data), b"BIN\0") + data
    (folder / "plate.glb").write_bytes(head + chunks)
    return folder / "plate.glb"


def three_mf(folder: Path, resources: str, items: str, head: str = "") -> Path:
    space = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
    body = f"<resources>{resources}</resources><build>{items}</build>"
    text = f'{head}<model unit="millimeter" xmlns="{space}">{body}</model>'
    with zipfile.ZipFile(folder / "plate.3mf", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("3D/3dmodel.model", text)
    return folder / "plate.3mf"


def mesh_xml() -> str:
    corners = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in TETRAHEDRON)
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in FACES)
    return f"<mesh><vertices>{corners}</vertices><triangles>{faces}</triangles></mesh>"


@pytest.mark.parametrize("file", CORPUS, ids=lambda file: file.name)
def test_what_an_attack_found_is_refused(file: Path) -> None:
    refusal(file)


@pytest.mark.parametrize("prefix", ["", "s:"])
def test_copies_of_copies_are_counted(tmp_path: Path, prefix: str) -> None:
    body = f'<{prefix}rect id="a0" width="2" height="2"/>'
    for k in range(20):
        body += f'<{prefix}g id="a{k + 1}">' + f'<{prefix}use href="#a{k}"/>' * 10 + f"</{prefix}g>"
    assert "copies" in refusal(svg(tmp_path, body))


def test_a_copy_of_itself_is_refused(tmp_path: Path) -> None:
    assert "copies itself" in refusal(svg(tmp_path, '<g id="a"><use href="#a"/></g>'))


def test_forty_copies_of_a_hole_are_read(tmp_path: Path) -> None:
    """Copies are no fault: it is what they come to that counts."""
    uses = "".join(f'<use href="#h" x="{5 + 6 * k}" y="200"/>' for k in range(40))
    body = f'<defs><rect id="h" width="2" height="3"/></defs><rect width="280" height="400"/>{uses}'
    area = polygon_of(read_outline(svg(tmp_path, body)).outline).area
    # the library counts 0.0393701 in to a millimetre
    assert area == pytest.approx(0.28 * 0.4 - 40 * 0.002 * 0.003, rel=3e-6)


def test_what_elements_inherit_counts_for_each(tmp_path: Path) -> None:
    body = f'<g transform="{"rotate(1) " * 190}">{"<rect/>" * 1000}</g>'
    assert "numbers" in refusal(svg(tmp_path, body))


def test_blocks_in_blocks_are_counted(tmp_path: Path) -> None:
    def block(name: str, body: str) -> str:
        return tags((0, "BLOCK"), (8, "0"), (2, name), (70, 0), (10, 0), (20, 0)) + body + tags((0, "ENDBLK"))

    place = ((10, 0), (20, 0), (70, 3), (71, 3), (44, 1), (45, 1))
    blocks = block("B0", line(0, 0, 9, 9))
    for k in range(7):
        blocks += block(f"B{k + 1}", tags((0, "INSERT"), (8, "0"), (2, f"B{k}"), *place) * 3)
    top = tags((0, "INSERT"), (8, "0"), (2, "B7"), *place)
    assert "blocks taken apart" in refusal(dxf(tmp_path, top, blocks))


def test_crossings_are_counted(tmp_path: Path) -> None:
    grid = "".join(line(0, y, 280, y) + line(y, 0, y, 280) for y in np.linspace(0, 280, 300))
    assert "cross or lie over one another" in refusal(dxf(tmp_path, grid))


def test_points_are_counted(tmp_path: Path) -> None:
    head = tags((0, "LWPOLYLINE"), (100, "AcDbEntity"), (8, "0"), (100, "AcDbPolyline"), (90, 1_000_000), (70, 1))
    assert "lines of text" in refusal(dxf(tmp_path, head + "10\n1.5\n20\n2.5\n" * 1_000_000))


def test_the_chords_of_a_curve_are_counted(tmp_path: Path) -> None:
    circles = tags((0, "CIRCLE"), (8, "0"), (10, 0), (20, 0), (40, 9e5)) * 100
    assert "points" in refusal(dxf(tmp_path, circles))


def ellipse(n: int, wave: float) -> Floats:
    """(n, 2) points of an ellipse with half axes of 140 and 200 mm, with a wave of this relative height on it."""
    a = np.linspace(0.0, 2.0 * np.pi, n, endpoint=False)
    r = 1.0 + wave * np.sin(n // 100 * a)
    return np.stack([140 * r * np.cos(a), 200 * r * np.sin(a)], axis=1)


def test_an_outline_of_many_points_is_thinned_within_what_is_told(tmp_path: Path) -> None:
    corners = ellipse(25_000, 0.002)
    path = "M" + " ".join(f"{x:.4f},{y:.4f}" for x, y in corners) + "Z"
    drawing = read_outline(svg(tmp_path, f'<path d="{path}"/>'))
    (note,) = [note for note in drawing.report.notes if "thinned" in note]
    assert "0.01 mm" in note
    girth = np.linalg.norm(np.diff(corners, axis=0, append=corners[:1]), axis=1).sum()
    exact = np.pi * 140 * 200 * (1.0 + 0.002**2 / 2.0)
    # no corner that was left out was further off than 0.01 mm; 0.0393701 in to a millimetre is off by 1e-6
    assert 1e6 * polygon_of(drawing.outline).area == pytest.approx(exact, abs=0.01 * girth + 3e-6 * exact)


def test_components_of_components_are_counted(tmp_path: Path) -> None:
    body = f'<object id="0">{mesh_xml()}</object>'
    for k in range(24):
        body += f'<object id="{k + 1}"><components>{f"""<component objectid="{k}"/>""" * 2}</components></object>'
    assert "parts" in refusal(three_mf(tmp_path, body, '<item objectid="24"/>'))
    assert "parts" in refusal(
        three_mf(tmp_path, body.replace('objectid="0"', 'objectid="24"'), '<item objectid="24"/>')
    )
    solid = read_solid(three_mf(tmp_path, body, '<item objectid="0"/>'), "mm")
    assert solid.report.size_mm == pytest.approx((100, 100, 100))


@pytest.mark.parametrize("suffix", ["svg", "3mf"])
def test_entities_are_refused(tmp_path: Path, suffix: str) -> None:
    head = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c SYSTEM "file:///dev/null">]>'
    if suffix == "3mf":
        file = three_mf(tmp_path, f'<object id="1">{mesh_xml()}</object>&b;', '<item objectid="1"/>', head)
    else:
        file = svg(tmp_path, "<text>&b;&c;</text>")
        file.write_text(head + file.read_text(encoding="utf-8"), encoding="utf-16")
    assert "entities" in refusal(file)


def test_instances_of_a_mesh_are_counted(tmp_path: Path) -> None:
    assert "parts" in refusal(glb(tmp_path, [{"mesh": 0}] * 5_000))
    twice: list[dict[str, object]] = [{"children": [k + 1, k + 1]} for k in range(30)]
    assert "parts" in refusal(glb(tmp_path, [*twice, {"mesh": 0}]))
    assert "inside itself" in refusal(glb(tmp_path, [{"children": [1]}, {"children": [0], "mesh": 0}]))
    assert "claims" in refusal(glb(tmp_path, [{"mesh": 0}], accessors=[{"count": 10**12}]))
    assert read_solid(glb(tmp_path, [{"mesh": 0}]), "mm").report.size_mm == pytest.approx((100, 100, 100))


@pytest.mark.parametrize("kind", ["svg", "glb"])
def test_what_is_nested_too_deeply_is_said_in_our_words(tmp_path: Path, kind: str) -> None:
    if kind == "svg":
        file = svg(tmp_path, "<g>" * 5_000 + "</g>" * 5_000)
    else:
        file = glb(tmp_path, [{"mesh": 0}])
        file.write_bytes(file.read_bytes()[:12] + struct.pack("<I4s", 100_000, b"JSON") + b"[" * 100_000)
    words = refusal(file)
    assert "nested" in words
    assert "recursion" not in words


def test_a_thousand_layers_do_not_make_a_long_message(tmp_path: Path) -> None:
    file = dxf(tmp_path, "".join(line(0, 0, 9, 9, f"Frame {k} " + "x" * 90) for k in range(1_000)))
    with pytest.raises(ShapeFileError, match="996 more") as caught:
        read_outline(file, "mm", skip_layers=[f"frame {k} " + "x" * 90 for k in range(1_000)])
    assert len(str(caught.value)) < 1_000


@pytest.mark.parametrize("kind", ["glb", "glb image", "obj", "svg", "dxf", "ply"])
def test_no_file_but_the_named_one_is_opened(tmp_path: Path, kind: str) -> None:
    (tmp_path / "beside").write_bytes(TETRAHEDRON.tobytes() + FACES.tobytes())
    text = {
        "obj": "mtllib beside\nv 0 0 0\nv 100 0 0\nv 0 100 0\nv 0 0 100\nusemtl a\n"
        "f 1 3 2\nf 1 2 4\nf 2 3 4\nf 3 1 4\n",
        "ply": "ply\nformat ascii 1.0\ncomment TextureFile beside\nelement vertex 4\nproperty float x\n"
        "property float y\nproperty float z\nelement face 4\nproperty list uchar int vertex_indices\n"
        "end_header\n0 0 0\n100 0 0\n0 100 0\n0 0 100\n3 0 2 1\n3 0 1 3\n3 1 2 3\n3 2 0 3\n",
    }
    if kind == "svg":
        outside = '<image href="beside"/><use href="beside#a"/><style>@import url("beside");</style>'
        file = svg(tmp_path, f'<?xml-stylesheet href="beside"?><rect width="280" height="400"/>{outside}')
    elif kind == "dxf":
        box = [(0, 0), (280, 0), (280, 400), (0, 400), (0, 0)]
        sides = "".join(line(*a, *b) for a, b in pairwise(box))
        other = tags((0, "BLOCK"), (8, "0"), (2, "X"), (70, 4), (10, 0), (20, 0), (1, "beside"), (0, "ENDBLK"))
        file = dxf(tmp_path, sides + tags((0, "INSERT"), (8, "0"), (2, "X"), (10, 0), (20, 0)), other)
    elif kind == "glb":
        file = glb(tmp_path, [{"mesh": 0}], buffers=[{"byteLength": 96, "uri": "beside"}])
    elif kind == "glb image":
        file = glb(tmp_path, [{"mesh": 0}], images=[{"uri": "beside"}])
    else:
        file = tmp_path / f"plate.{kind}"
        file.write_text(text[kind], encoding="ascii")
    opened.clear()
    if kind.startswith("glb"):
        assert "other files" in refusal(file)
    elif kind in ("svg", "dxf"):
        assert polygon_of(read_outline(file, "mm").outline).area == pytest.approx(0.112, rel=3e-6)
    else:
        assert read_solid(file, "mm").report.size_mm == pytest.approx((100, 100, 100))
    assert str(file) in opened
    assert not [name for name in opened if str(tmp_path) in name and name != str(file)]


@pytest.mark.parametrize("claimed", [2**32 - 1, 5, 0])
def test_an_stl_that_miscounts_is_refused(tmp_path: Path, claimed: int) -> None:
    rows = np.zeros(4, dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    rows["corners"] = TETRAHEDRON[FACES]
    stream = io.BytesIO(b"\0" * 80 + struct.pack("<I", claimed) + rows.tobytes())
    (tmp_path / "plate.stl").write_bytes(stream.getvalue())
    refusal(tmp_path / "plate.stl")


@pytest.mark.parametrize("number", ["nan", "inf", "1e300", "-1e39"])
def test_numbers_that_are_none_are_refused(tmp_path: Path, number: str) -> None:
    refusal(svg(tmp_path, f'<path d="M0 0 L{number} 0 L9 9Z"/><circle r="{number}"/>'))
    refusal(dxf(tmp_path, line(0, 0, float(number), 9)))
    (tmp_path / "plate.obj").write_text(f"v 0 0 {number}\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", encoding="ascii")
    refusal(tmp_path / "plate.obj")


def test_an_attribute_that_takes_the_square_of_its_length_is_refused(tmp_path: Path) -> None:
    """A transform of 174,000 letters took 15 s of processor time in the library."""
    assert "transform of 174000 letters" in refusal(svg(tmp_path, f'<g transform="{"scale(" * 29_000}"/>'))


def test_more_shells_than_can_be_united_are_refused(tmp_path: Path) -> None:
    """12,000 shells in one mesh of 16 kB took 20 s to be told apart."""
    object_ = f'<object id="1">{mesh_xml() * 501}</object>'
    assert "501 shells" in refusal(three_mf(tmp_path, object_, '<item objectid="1"/>'))


def test_a_long_style_sheet_is_refused_before_its_rules_are_strung_together(tmp_path):
    file = tmp_path / "styled.svg"
    rules = ".a{fill:red}" * 100_000  # each is added to what the class has: time grows as the square
    shape = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {PAGE}><style>{rules}</style><rect width="280" height="400"/></svg>'
    )
    file.write_text(shape, encoding="utf-8")
    assert "style sheets of more than 50000 letters" in refusal(file)


def test_a_curve_at_no_height_is_refused(tmp_path, caplog):
    """An arc whose centre has a NaN for its height: halving it until it is fine enough has no end."""
    import ezdxf

    document = ezdxf.new("R12")
    document.modelspace().add_arc((70.0, 300.0, 7.0), 20.0, 0.0, 180.0)
    file = tmp_path / "height.dxf"
    document.saveas(file)
    caplog.clear()  # of what the library said while it wrote
    text = file.read_text(encoding="utf-8")
    assert text.count("\n 30\n7.0\n") == 1
    file.write_text(text.replace("\n 30\n7.0\n", "\n 30\nnan\n"), encoding="utf-8")
    assert "from the drawing's origin" in refusal(file)
