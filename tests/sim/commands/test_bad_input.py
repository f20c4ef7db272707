"""Whatever is wrong with a file: one message that says where and what, exit code 2, never a traceback."""

import pytest

from sim.commands.main import main

GOOD = '[diver]\nsex = "female"\nheight = "166 cm"\nmass = "58 kg"\n'

BAD_TEXTS = {
    "misspelt key": (GOOD.replace("height", "hieght"), ["bad.toml:3", "hieght", "height"]),
    "missing unit": (GOOD.replace('"166 cm"', '"166"'), ["bad.toml:3", "diver.height", "166 cm"]),
    "bare number": (GOOD.replace('"166 cm"', "166"), ["bad.toml:3", "diver.height", "unit"]),
    "166 m tall": (GOOD.replace("166 cm", "166 m"), ["bad.toml:3", "diver.height", "166 cm"]),
    "negative mass": (GOOD.replace("58 kg", "-58 kg"), ["bad.toml:4", "diver.mass", "-58 kg"]),
    "NaN": (GOOD.replace('"58 kg"', "nan"), ["bad.toml:4", "diver.mass"]),
    "NaN with unit": (GOOD.replace("58 kg", "nan kg"), ["bad.toml:4", "diver.mass"]),
    "decimal comma": (GOOD.replace("58 kg", "58,5 kg"), ["bad.toml:4", "diver.mass", "58.5"]),
    "wrong dimension": (GOOD.replace("58 kg", "58 psi"), ["bad.toml:4", "diver.mass", "pressure"]),
    "empty": ("", ["bad.toml", "empty"]),
    "not TOML": ("dear diary\n", ["bad.toml:1"]),
    "no diver": ('[water]\nkind = "sea"\n', ["bad.toml", "diver"]),
}


def refused(capsys, *words):
    """stderr of a command that must refuse its input."""
    assert main(["settle", *map(str, words)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    assert "fault is in hangflat" not in err
    return err


@pytest.mark.parametrize(("text", "told"), BAD_TEXTS.values(), ids=BAD_TEXTS)
def test_bad_text(text, told, tmp_path, capsys):
    file = tmp_path / "bad.toml"
    file.write_text(text, encoding="utf-8")
    err = refused(capsys, file)
    assert all(word in err for word in told), err


def test_no_such_file(tmp_path, capsys):
    assert "nothing.toml" in refused(capsys, tmp_path / "nothing.toml")


def test_directory(tmp_path, capsys):
    assert str(tmp_path.name) in refused(capsys, tmp_path)


def test_binary(tmp_path, capsys):
    file = tmp_path / "bad.toml"
    file.write_bytes(bytes(range(256)) * 16)
    assert "bad.toml" in refused(capsys, file)


def test_a_hundred_megabytes_of_text(tmp_path, capsys):
    file = tmp_path / "bad.toml"
    with file.open("wb") as out:
        for _ in range(100):
            out.write(b"# much ado\n" * 95_326)  # 1 MiB
    assert "bad.toml" in refused(capsys, file)


@pytest.mark.parametrize("setting", ["nonsense", "diver.height=166", "diver.hieght=166 cm", "=3", "diver.mass="])
def test_bad_setting(setting, tmp_path, capsys):
    file = tmp_path / "good.toml"
    file.write_text(GOOD, encoding="utf-8")
    assert "--set" in refused(capsys, file, "--set", setting)
