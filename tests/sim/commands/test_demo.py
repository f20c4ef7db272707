from scenarios.demos import SHOWS, demo_names, demo_path
from scenarios.reading import read_scenario
from sim.commands.demo import demo_texts
from sim.commands.main import main


def test_lists_every_demo_with_its_title_and_what_it_shows(capsys):
    assert main(["demo"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    for name in demo_names():
        assert f"{name}.toml: {read_scenario(demo_path(name)).title}" in out
        assert f"shows {SHOWS[name]}" in out


def test_writes_files_that_can_be_read_and_leaves_what_is_there(tmp_path, capsys):
    folder = tmp_path / "a" / "b"
    assert main(["demo", "--write", str(folder)]) == 0
    assert {f.name for f in folder.iterdir()} == set(demo_texts())
    for name in demo_names():
        assert read_scenario(folder / f"{name}.toml").title
    mine = min(folder.iterdir())
    mine.write_text("mine", encoding="utf-8")
    capsys.readouterr()
    assert main(["demo", "--write", str(folder)]) == 0
    assert mine.read_text(encoding="utf-8") == "mine"
    assert capsys.readouterr().out.count("left as it is") == len(demo_texts())


def test_a_file_in_the_way_is_one_message(tmp_path, capsys):
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert main(["demo", "--write", str(tmp_path / "file")]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
