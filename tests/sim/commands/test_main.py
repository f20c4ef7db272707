import os
import subprocess
import sys

import pytest

from sim.commands import command_line
from sim.commands.main import main

HEAVY = {"numpy", "scipy", "pydantic", "trimesh", "pyvista", "matplotlib", "teqp", "gsw"}


def test_help_tells_every_command_and_imports_nothing_heavy():
    code = "import sys; from sim.commands.main import main; main(['--help']); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    *told, modules = done.stdout.splitlines()
    for name in command_line.COMMANDS:
        assert any(line.startswith(f"  {name} ") for line in told)
    assert not HEAVY & set(modules.split())


@pytest.mark.parametrize("command", command_line.COMMANDS)
def test_every_command_has_help(command, capsys):
    assert main([command, "--help"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"Usage: hangflat {command}")
    assert "--no-" not in out


def test_version_is_that_of_the_package(capsys):
    from importlib import metadata

    assert main(["--version"]) == 0
    assert capsys.readouterr().out == metadata.version("hangflat") + "\n"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["setle", "x.toml"], ['"setle"', 'Did you mean "settle"']),
        (["settle", "x.toml", "--pictur", "a.png"], ["--pictur", "Did you mean --picture"]),
        (["settle", "x.toml", "--roll", "hold"], ['"hold"', '"held"', '"free"']),
        (["settle"], ["settle", "FILE"]),
        (["why", "a.toml", "b.toml"], ["b.toml"]),
        (["--bogus"], ["--bogus"]),
    ],
)
def test_a_wrong_command_line_is_one_message_on_stderr(words, told, capsys):
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert all(word in err for word in told)
    assert "--help" in err


def failing(error):
    def app(*_, **__):
        raise error

    return app


def test_a_fault_of_ours_is_one_line_that_says_so(monkeypatch, capsys):
    monkeypatch.setattr(command_line, "app", failing(ZeroDivisionError("float division\nby zero")))
    monkeypatch.delenv("HANGFLAT_TRACEBACK", raising=False)
    assert main(["settle"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert "the fault is in hangflat" in err
    assert "HANGFLAT_TRACEBACK=1" in err


def test_traceback_on_demand(monkeypatch, capsys):
    monkeypatch.setattr(command_line, "app", failing(ZeroDivisionError("x")))
    monkeypatch.setenv("HANGFLAT_TRACEBACK", "1")
    assert main(["settle"]) == 1
    assert "Traceback (most recent call last)" in capsys.readouterr().err


def test_interrupting_is_quiet(monkeypatch, capsys):
    monkeypatch.setattr(command_line, "app", failing(KeyboardInterrupt()))
    assert main(["settle"]) == 130
    assert capsys.readouterr() == ("", "")


@pytest.mark.skipif(os.name == "nt", reason="pipes break otherwise there")
def test_a_reader_that_goes_away_is_no_fault():
    """As in ``hangflat catalogue keys | head -1``: the pipe's other end is closed before anything is written."""
    read, write = os.pipe()
    os.close(read)
    command = [sys.executable, "-m", "sim.commands.main", "catalogue", "keys"]
    done = subprocess.run(command, stdout=write, stderr=subprocess.PIPE)
    os.close(write)
    assert (done.stderr, done.returncode) == (b"", 141)


def test_speaks_utf8_where_the_locale_does_not():
    code = "from sim.commands.main import main; main(['catalogue', 'keys', 'temperature'])"
    env = {**os.environ, "PYTHONUTF8": "0", "PYTHONIOENCODING": "cp1252"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, env=env, check=True)
    assert "°C" in done.stdout.decode("utf-8")
