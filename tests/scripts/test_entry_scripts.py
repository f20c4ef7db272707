import ast
import os
import runpy
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", ["demo", "check"])
def test_an_old_python_is_told_in_one_line(name, monkeypatch):
    monkeypatch.setattr(sys, "version_info", (3, 10, 13, "final", 0))
    with pytest.raises(SystemExit, match=r"^hangflat needs Python 3\.11 or newer; this is [^\n]*$"):
        runpy.run_path(str(ROOT / "scripts" / f"{name}.py"), run_name="__main__")


@pytest.mark.parametrize("name", ["demo", "check"])
def test_an_old_python_can_parse_the_script(name):
    ast.parse((ROOT / "scripts" / f"{name}.py").read_text(encoding="utf-8"), feature_version=(3, 7))


@pytest.fixture
def check(script, monkeypatch):
    module = script("check")
    monkeypatch.setattr(module.setup_env, "ensure", lambda extra: Path(sys.executable))
    return module


def leaves(code: int, text: str = "") -> list[str]:
    """A command that prints ``text`` and ends with ``code``."""
    return [sys.executable, "-c", f"print({text!r}); raise SystemExit({code})"]


@pytest.mark.parametrize(("lint", "tests", "code"), [(0, 0, 0), (1, 0, 1), (0, 1, 1)])
def test_check_fails_when_any_step_fails_and_ends_with_the_closing_line(check, monkeypatch, capfd, lint, tests, code):
    run_tests = check._run_tests
    monkeypatch.setattr(check, "steps", lambda: {"lint": leaves(lint, "look here")})
    monkeypatch.setattr(check, "_run_tests", lambda command: run_tests(leaves(tests, "=== 7 passed in 0.1s ===")))
    assert check.main([]) == code
    out = capfd.readouterr().out
    assert out.splitlines()[-1] == "=== 7 passed in 0.1s ==="
    assert ("look here" in out) == (lint != 0)
    assert ("FAILED:" in out) == (code != 0)


def test_check_hands_its_words_to_pytest(check, monkeypatch, capfd):
    commands = []
    monkeypatch.setattr(check, "steps", dict)
    monkeypatch.setattr(check, "_run_tests", lambda command: (commands.append(command), (0, "ok"))[1])
    check.main(["-k", "units"])
    assert commands[0][-2:] == ["-k", "units"]


@pytest.mark.parametrize("name", ["demo", "check"])
def test_trouble_with_setting_up_is_a_message(name, script, monkeypatch, capsys):
    module = script(name)

    def fails(*_):
        raise module.setup_env.SetupError("no network here")

    monkeypatch.setattr(module.setup_env, "ensure", fails)
    assert module.main(*([[]] if name == "check" else [])) == 1
    assert "no network here" in capsys.readouterr().err


def test_demo_names_a_scenario_that_is_there(script):
    assert (ROOT / script("setup_env").DEMO).is_file()


@pytest.mark.skipif(os.name == "nt" or shutil.which("bash") is None, reason="needs bash")
def test_ci_runs_the_check_script_from_the_root_and_passes_its_code_on(tmp_path):
    python3 = tmp_path / "python3"
    python3.write_text('#!/bin/sh\necho "$PWD" "$@"\nexit 5\n', encoding="utf-8")
    python3.chmod(0o755)
    done = subprocess.run(
        ["bash", ROOT / ".ci" / "run"], cwd=tmp_path, env={"PATH": f"{tmp_path}:{os.environ['PATH']}"},
        capture_output=True, text=True,
    )  # fmt: skip
    assert (done.stdout, done.returncode) == (f"{ROOT} scripts/check.py\n", 5)
