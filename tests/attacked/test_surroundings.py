"""Surroundings in which hangflat once failed: streams closed or full, a style of the user's, a folder gone."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from sim.batch import compiled
from sim.commands.console import UsageError
from sim.commands.main import main
from sim.commands.whole_file import written_whole
from sim.drawing import offscreen
from sim.drawing.own_style import own_style

ROOT = Path(__file__).parents[2]
DEMOS = {p.name: p.read_bytes() for p in (ROOT / "scenarios" / "demos").glob("*.toml")}
COMMAND = (sys.executable, "-P", "-m", "sim.commands.main")

pytestmark = pytest.mark.skipif(os.name == "nt", reason="shells and devices of POSIX systems")


def in_shell(line: str, *words: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run words by a shell line in which they are "$@"."""
    return subprocess.run(
        ["sh", "-c", line, "sh", *words], cwd=cwd, capture_output=True, text=True, check=False, timeout=60,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )  # fmt: skip


@pytest.mark.parametrize("shut", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_streams_may_be_closed_from_the_start(shut, tmp_path):
    ran = in_shell(f'exec "$@" {shut}', *COMMAND, "demo", "--write", "out", cwd=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    # nothing that was to be said went into a file that had got the number of a closed stream
    assert {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()} == DEMOS


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no device that is always full")
def test_a_full_device_for_the_answer_is_told_in_one_line(tmp_path):
    ran = in_shell('exec "$@" >/dev/full', *COMMAND, "--help", cwd=tmp_path)
    assert ran.returncode == 2
    assert ran.stderr.splitlines() == [
        f"The answer cannot be written: {os.strerror(errno.ENOSPC)}. Make room, or send it elsewhere."
    ]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no device that is always full")
def test_the_exit_code_tells_of_a_refusal_where_stderr_is_full(tmp_path):
    assert in_shell('exec "$@" 2>/dev/full', *COMMAND, "settle", cwd=tmp_path).returncode == 2


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no device that is always full")
def test_files_are_written_and_only_the_answer_is_lost_where_stdout_is_full(tmp_path):
    ran = in_shell('exec "$@" >/dev/full', *COMMAND, "demo", "--write", "out", cwd=tmp_path)
    assert (ran.returncode, len(ran.stderr.splitlines())) == (2, 1)
    assert {p.name: p.read_bytes() for p in (tmp_path / "out").iterdir()} == DEMOS


def test_a_demo_file_cut_short_is_not_left(tmp_path):
    """A limit to the size of files stands for a full disk: the write fails half way."""
    ran = in_shell('ulimit -f 1; exec "$@"', *COMMAND, "demo", "--write", "out", cwd=tmp_path)
    assert ran.returncode == 2
    assert len(ran.stderr.splitlines()) == 1
    assert "cannot be written" in ran.stderr
    for left in (tmp_path / "out").iterdir():
        assert left.read_bytes() == DEMOS[left.name]


def test_a_disk_that_fills_up_while_a_file_is_written_is_told_with_the_file(tmp_path):
    with pytest.raises(UsageError, match=r"a\.png cannot be written: No space"), written_whole(tmp_path / "a.png"):
        raise OSError(errno.ENOSPC, "No space left on device")
    assert not list(tmp_path.iterdir())
    with pytest.raises(OSError, match="other"), written_whole(tmp_path / "a.png"):
        raise OSError(errno.ENOENT, "other")


def test_pictures_are_drawn_as_shipped_and_without_a_word(tmp_path):
    """A style sheet in the current folder counts for the drawing library; it tells of folders it cannot write to."""
    (tmp_path / "matplotlibrc").write_text("font.size: 40\nno.such.key: 1\n", encoding="utf-8")
    script = (
        "from sim.drawing.canvas import new_figure; figure = new_figure((2, 2)); "
        "print(figure.text(0, 0, 'a').get_fontsize())"
    )
    nowhere = str(tmp_path / "matplotlibrc" / "none")
    ran = in_shell('exec "$@"', sys.executable, "-P", "-c", script, cwd=tmp_path, XDG_CONFIG_HOME=nowhere)
    assert (ran.stdout, ran.stderr) == ("10.0\n", "")


def test_a_font_that_is_missing_is_told_in_one_line(tmp_path, monkeypatch, capsys):
    def none(*_: object, **__: object) -> str:
        raise ValueError("Failed to find font")

    monkeypatch.setattr("matplotlib.font_manager.findfont", none)
    own_style.cache_clear()
    assert main(["why", str(ROOT / "scenarios/demos/single-wetsuit.toml"), "--chart", str(tmp_path / "a.svg")]) == 2
    assert "Install matplotlib anew" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
    own_style.cache_clear()


def twice(x):
    return 2.0 * x


@pytest.mark.parametrize("ending", [".nbi", ".nbc"])
@pytest.mark.parametrize("kept", [0, 40])
def test_damaged_files_of_compiled_code_count_as_not_there(ending, kept, tmp_path, monkeypatch):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert compiled.loop(twice)(1.5) == 3.0
    files = [f for f in tmp_path.rglob(f"*{ending}") if "twice" in f.name]
    assert files
    for file in files:
        file.write_bytes(file.read_bytes()[:kept])
    assert compiled.loop(twice)(1.5) == 3.0
    again = compiled.loop(twice)
    assert again(1.5) == 3.0
    assert sum(again.stats.cache_hits.values()) == 1  # and were written anew


def test_the_renderer_runs_nothing_that_lies_in_the_current_folder(tmp_path):
    (tmp_path / "sim.py").write_text("raise SystemExit('a file of the user was run')", encoding="utf-8")
    interpreter = offscreen.RENDERER[: offscreen.RENDERER.index("-m")]
    ran = in_shell('exec "$@"', *interpreter, "-c", "import sim; print(sim.__path__)", cwd=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_renderer_can_be_started_from_a_folder_that_is_gone(tmp_path, monkeypatch):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    monkeypatch.setattr(offscreen, "RENDERER", (sys.executable, "-c", "print('started')"))
    monkeypatch.setattr(sys, "path", ["", *sys.path])
    assert offscreen._asked(None, b"")[0] == b"started\n"


def test_a_folder_that_is_gone_bars_no_answer(tmp_path, monkeypatch, capsys):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert main(["demo", "--write", str(tmp_path / "out")]) == 0
    assert main(["settle", "diver.toml"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
