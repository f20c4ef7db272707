"""``hangflat plate`` as it is typed."""

import json

import pytest

import hangflat
from sim.commands.main import main


def test_a_plate_in_words_drawn_and_exported_and_opened_again(capsys, tmp_path):
    files = {"--picture": "p.png", "--drawing": "d.svg", "--tiles": "t.pdf", "--export": "flat.dxf"}
    words = [word for option, name in files.items() for word in (option, str(tmp_path / name))]
    assert main(["plate", "standard steel", *words]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100 + len(str(tmp_path))
    assert all(str(tmp_path / name) in text for name in files.values())
    assert all((tmp_path / name).stat().st_size > 5000 for name in files.values())
    assert main(["plate", str(tmp_path / "flat.dxf"), "--thickness", "3 mm", "--material", "316L", "--json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert main(["plate", "standard steel", "--json"]) == 0
    first = json.loads(capsys.readouterr().out)
    assert abs(again["mass_kg"] / first["mass_kg"] - 1.0) < 1e-3
    assert [(c["of"], c["what"], c["passes"]) for c in again["checks"]] == [
        (c["of"], c["what"], c["passes"]) for c in first["checks"]
    ]


def test_the_front_door_gives_what_is_printed(capsys):
    assert main(["plate", "small carbon", "--thickness", "4 mm", "--json"]) == 0
    found = hangflat.plate("small carbon", ['plate.thickness="4 mm"'])
    assert json.loads(json.dumps(hangflat.as_json(found))) == json.loads(capsys.readouterr().out)


def test_a_drawing_without_thickness_and_material_asks_for_both(capsys, tmp_path):
    assert main(["plate", "small steel", "--export", str(tmp_path / "p.dxf")]) == 0
    capsys.readouterr()
    assert main(["plate", str(tmp_path / "p.dxf"), "--picture", str(tmp_path / "p.png")]) == 2
    said = capsys.readouterr().err
    assert "--material" in said
    assert "--thickness" in said
    assert not (tmp_path / "p.png").exists()


def test_a_solid_bent_sheet_is_unfolded_and_goes_back_to_the_shop_as_its_flat_pattern(capsys, tmp_path):
    for source, target in (("small steel", "p.stl"), (str(tmp_path / "p.stl"), "q.dxf"), ("small steel", "p.dxf")):
        words = ["--material", "316L", "--unit", "mm"] if source.endswith("stl") else []
        assert main(["plate", source, *words, "--export", str(tmp_path / target), "--json"]) == 0
    told = [json.loads("{" + one) for one in capsys.readouterr().out.split("\n{")[1:]]
    assert told[0]["kind"] == "solid"
    assert told[0]["area"] == pytest.approx(told[1]["area"], rel=2e-4)
    for got, built in zip(told[0]["bends"], told[1]["bends"], strict=True):
        assert got["source"] == "drawn"
        assert (got["at_m"], got["inner_radius_m"]) == pytest.approx(
            (built["at_m"], built["inner_radius_m"]), abs=5e-6
        )
        assert got["angle_deg"] == pytest.approx(built["angle_deg"], abs=1e-3)


def test_a_solid_that_is_no_even_sheet_has_no_flat_pattern_to_export(capsys, tmp_path):
    solid, thicker = (
        tmp_path / "p.glb",
        'plate.zones=[{thickness="6 mm", top="40 mm", bottom="200 mm", outer="25 mm"}]',
    )
    assert main(["plate", "small steel", "--set", thicker, "--export", str(solid)]) == 0
    capsys.readouterr()
    assert main(["plate", str(solid), "--material", "316L", "--export", str(tmp_path / "p.dxf")]) == 2
    assert "no flat pattern" in capsys.readouterr().err
    assert [p.name for p in tmp_path.iterdir()] == ["p.glb"]


def test_one_file_is_not_written_twice(capsys, tmp_path):
    svg = str(tmp_path / "a.svg")
    assert main(["plate", "small steel", "--drawing", svg, "--picture", svg]) == 2
    assert "a.svg is to be written 2 times; give each its own file." in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_search_does_not_write_over_the_drawing_it_starts_from(capsys, tmp_path):
    drawing = tmp_path / "mine.dxf"
    assert main(["plate", "small aluminium", "--export", str(drawing)]) == 0
    before = drawing.read_bytes()
    words = ["--material", "aluminium", "--thickness", "3.2 mm", "--design", str(tmp_path / "mine.toml")]
    assert main(["plate", str(drawing), *words]) == 2
    assert "--design-dxf" in capsys.readouterr().err
    assert drawing.read_bytes() == before
    assert list(tmp_path.iterdir()) == [drawing]
