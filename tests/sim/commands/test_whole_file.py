import os
import signal
import sys
import time
from pathlib import Path

import pytest

from sim.commands import command_line
from sim.commands.console import UsageError
from sim.commands.main import main
from sim.commands.whole_file import written_whole
from sim.file_lock import taken


def test_the_file_appears_whole_at_the_end(tmp_path):
    out = tmp_path / "a picture.png"
    with written_whole(out, (".png",)) as draft:
        draft.write_bytes(b"new")
        assert not out.exists()
        assert draft.suffix == ".png"
    assert out.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [out]


def test_the_longest_name_that_the_file_system_takes(tmp_path):
    most = os.pathconf(tmp_path, "PC_NAME_MAX") if hasattr(os, "pathconf") else 255
    out = tmp_path / ("p" * (most - 4) + ".png")
    with written_whole(out, (".png",)) as draft:
        draft.write_bytes(b"new")
    assert out.read_bytes() == b"new"
    with (
        pytest.raises(UsageError, match=r"cannot be written: .*Give another name"),
        written_whole(tmp_path / ("p" * (most - 3) + ".png"), (".png",)),
    ):
        pass


def test_two_drafts_at_once_are_two_files(tmp_path):
    with written_whole(tmp_path / "a.png", (".png",)) as one, written_whole(tmp_path / "b.png", (".png",)) as other:
        one.write_bytes(b"a")
        other.write_bytes(b"b")
    assert [(tmp_path / name).read_bytes() for name in ("a.png", "b.png")] == [b"a", b"b"]


def spoil(draft):
    draft.write_bytes(b"half")
    raise ZeroDivisionError


def test_a_failure_leaves_the_old_file_and_no_draft(tmp_path):
    out = tmp_path / "a.png"
    out.write_bytes(b"old")
    with pytest.raises(ZeroDivisionError), written_whole(out) as draft:
        spoil(draft)
    assert out.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [out]


def test_a_link_is_followed_and_kept(tmp_path):
    target, link = tmp_path / "target.png", tmp_path / "link.png"
    target.write_bytes(b"old")
    try:
        link.symlink_to(target)
    except OSError:
        pytest.skip("no links here")
    with written_whole(link) as draft:
        draft.write_bytes(b"new")
    assert target.read_bytes() == b"new"
    assert link.is_symlink()


def test_refuses_at_once_what_cannot_be_written(tmp_path):
    (tmp_path / "folder.png").mkdir()
    (tmp_path / "file").write_text("", encoding="utf-8")
    cases = {
        tmp_path / "nowhere" / "a.png": "no folder",
        tmp_path / "folder.png": "is a folder",
        tmp_path / "a.jpeg": r"ends in '\.jpeg'; give a name that ends in \.png or \.svg",
        tmp_path / "a": "has no ending",
        tmp_path / "file" / "a.png": "no folder",
        tmp_path / ("x" * 300 + ".png"): "cannot be written",
    }
    for path, told in cases.items():
        with pytest.raises(UsageError, match=told), written_whole(path, (".png", ".svg")):
            pytest.fail(f"{path} was let through")


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="an administrator may write anywhere")
def test_refuses_a_file_that_may_not_be_overwritten(tmp_path):
    out = tmp_path / "a.png"
    out.write_bytes(b"old")
    out.chmod(0o444)
    with pytest.raises(UsageError, match="may not be overwritten"), written_whole(out):
        pytest.fail("was let through")
    assert out.read_bytes() == b"old"


@pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
def test_refuses_what_is_no_regular_file():
    with (
        pytest.raises(UsageError, match="may not be overwritten"),
        written_whole(Path("/dev/null")),
    ):
        pytest.fail("was let through")


def test_drafts_that_a_killed_process_left_are_swept_and_no_others(tmp_path):
    left, other, at_work = (tmp_path / n for n in (".hangflat-123-0.png", ".hangflat-b.png", ".hangflat-124-7.png"))
    for draft in (left, other, at_work):
        draft.write_bytes(b"half")
    with at_work.open("rb+") as held:
        assert taken(held.fileno())
        with written_whole(tmp_path / "a.png") as draft:
            draft.write_bytes(b"new")
        assert {p.name for p in tmp_path.iterdir()} == {other.name, at_work.name, "a.png"}


@pytest.mark.skipif(sys.platform == "win32", reason="no such signals there")
@pytest.mark.usefixtures("usual_signals")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_being_told_to_end_leaves_no_draft(tmp_path, monkeypatch, capsys, number):
    def app(*_, **__):
        with written_whole(tmp_path / "a.png") as draft:
            draft.write_bytes(b"half")
            os.kill(os.getpid(), number)
            time.sleep(10.0)
            pytest.fail("was not heard")

    monkeypatch.setattr(command_line, "app", app)
    before = signal.getsignal(number)
    assert main(["settle"]) == 128 + number
    assert list(tmp_path.iterdir()) == []
    assert capsys.readouterr() == ("", "")
    assert signal.getsignal(number) == before
