"""Running: the same numbers however the work is cut, shared, stopped and taken up; plain words when it cannot."""

import errno
import json
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from pathlib import Path

import numpy as np
import polars as pl
import psutil
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.answers.study import block_file, run
from sim.answers.study.crew import CrewError, Processes, processes
from sim.answers.study.folder import FolderError, missing_rows, opened, recorded
from sim.answers.study.job import Answers, worked_block
from sim.answers.study.record import Identity
from sim.answers.study.results import results
from sim.telling.record import as_json, keys_of

from .conftest import Sum, job_of, number

ROOT = Path(__file__).parents[4]


@contextmanager
def threads(workers=2):
    """Threads of this process: quick to start."""
    with ThreadPoolExecutor(workers) as pool:
        yield Processes(workers, pool)


def whole(folder: Path) -> pl.DataFrame:
    return pl.read_parquet(folder / "rows" / "*.parquet").sort("row")


def ran(job, folder: Path, rows: int, workers=2) -> pl.DataFrame:
    with opened(folder, job), threads(workers) as crew:
        run.run(job, folder, crew, rows)
    return whole(folder)


def test_rows_are_the_same_whatever_the_block_and_the_workers(sum_job, tmp_path):
    one = ran(sum_job, tmp_path / "a", 1000, 1)
    assert one["row"].to_list() == list(range(1000))
    assert one["total"].equals(one["x"] + one["y"])
    for rows, workers in ((1, 4), (7, 2), (333, 3)):
        assert ran(sum_job, tmp_path / f"b{rows}", rows, workers).equals(one)


def test_processes_do_the_same_to_the_last_byte(sum_job, tmp_path):
    ran(sum_job, tmp_path / "a", 300)
    with opened(tmp_path / "b", sum_job), processes(2) as crew:
        run.run(sum_job, tmp_path / "b", crew, 300)
    files = sorted(p.name for p in (tmp_path / "a" / "rows").iterdir())
    assert len(files) == 4
    for name in files:
        assert (tmp_path / "a" / "rows" / name).read_bytes() == (tmp_path / "b" / "rows" / name).read_bytes()


def test_only_what_is_missing_is_worked_out_again(sum_job, tmp_path):
    before = ran(sum_job, tmp_path, 100)
    for start in (200, 500, 900):
        (tmp_path / "rows" / f"{start:010d}-{start + 99:010d}.parquet").unlink()
    assert missing_rows(tmp_path, 1000) == [(200, 300), (500, 600), (900, 1000)]
    kept = {p: p.stat().st_mtime_ns for p in (tmp_path / "rows").iterdir()}
    assert ran(sum_job, tmp_path, 37).equals(before)
    assert all(p.stat().st_mtime_ns == t for p, t in kept.items())


def test_a_kill_at_any_moment_loses_only_blocks_in_hand(tmp_path):
    """The run killed outright, then told to end, its workers left to themselves; then run to its end."""
    command = [sys.executable, str(Path(__file__).with_name("slow_study.py")), str(tmp_path)]
    held = 0
    for way in ("kill", "terminate"):
        task = subprocess.Popen(command, cwd=ROOT, stderr=subprocess.PIPE, text=True)
        while len(list((tmp_path / "rows").glob("*.parquet"))) < held + 5 and task.poll() is None:
            time.sleep(0.01)
        assert task.poll() is None, "it ended before it could be killed"
        workers = psutil.Process(task.pid).children(recursive=True)
        assert len(workers) >= 2
        getattr(task, way)()
        assert task.communicate() == (None, "")
        assert psutil.wait_procs(workers, timeout=5.0)[1] == []
        held = len(list((tmp_path / "rows").glob("*.parquet")))
        assert len(whole(tmp_path)) == 10 * held
    assert task.returncode == (1 if sys.platform == "win32" else 143)
    assert not list((tmp_path / "rows").glob(".*"))
    assert 10 <= held < 100
    before = whole(tmp_path)
    subprocess.run(command, cwd=ROOT, check=True)
    table = whole(tmp_path)
    assert table["row"].to_list() == list(range(1024))
    assert table.filter(pl.col("row").is_in(before["row"].implode())).equals(before)
    assert np.array_equal(table["sine"], np.sin(table["x"]))
    assert not list((tmp_path / "rows").glob(".*"))


def test_drafts_of_killed_runs_are_swept(sum_job, tmp_path):
    with opened(tmp_path, sum_job):
        pass
    drafts = [tmp_path / ".study.json.123", tmp_path / "rows" / ".0000000000-0000000009.parquet.123"]
    for draft in drafts:
        draft.write_bytes(b"PAR1")
    with opened(tmp_path, sum_job):
        assert not any(draft.exists() for draft in drafts)


def cut(content: bytes) -> bytes:
    return content[: len(content) // 2]


def flipped(content: bytes) -> bytes:
    at = len(content) // 3
    return content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :]


@pytest.mark.parametrize("spoilt", [cut, flipped, lambda content: b""])
def test_a_damaged_block_is_told_and_worked_out_again_and_no_other(sum_job, tmp_path, spoilt):
    before = ran(sum_job, tmp_path, 100)
    bad, *good = sorted((tmp_path / "rows").iterdir())
    content = bad.read_bytes()
    bad.write_bytes(spoilt(content))
    (tmp_path / "study.json").write_text(
        json.dumps(as_json(recorded(sum_job)) | {"title": "", "version": ""}), "utf-8"
    )
    with pytest.raises(FolderError, match=f"{bad.name} is damaged; run the study again"):
        results(tmp_path)
    kept = {p: p.stat().st_mtime_ns for p in good}
    with opened(tmp_path, sum_job) as damaged, threads() as crew:
        assert damaged == [bad]
        run.run(sum_job, tmp_path, crew, 100)
    assert whole(tmp_path).equals(before)
    assert bad.read_bytes() == content
    assert all(p.stat().st_mtime_ns == t for p, t in kept.items())


@given(at=st.integers(0, 2**62), bit=st.integers(0, 7))
@settings(max_examples=60)
def test_no_flipped_bit_of_a_block_goes_unseen(sealed, at, bit):
    path, content = sealed
    at %= len(content)
    path.write_bytes(content[:at] + bytes([content[at] ^ 1 << bit]) + content[at + 1 :])
    assert not block_file.is_whole(path)


@pytest.fixture(scope="module")
def sealed(tmp_path_factory):
    """A block's file and what belongs in it."""
    job = job_of(Sum(), "sobol", (number("x", "uniform", 0.0, 1.0),), 64)
    content = block_file.block_bytes(job, worked_block(job, 0, 64))
    path = tmp_path_factory.mktemp("sealed") / "block.parquet"
    path.write_bytes(content)
    assert block_file.is_whole(path)
    return path, content


@pytest.mark.parametrize("text", ["{}", "[1]", "null", "{", "[" * 10000, '{"identity": 3}'])
def test_a_damaged_record_is_said_and_nothing_is_lost(sum_job, tmp_path, text):
    ran(sum_job, tmp_path, 500)
    (tmp_path / "study.json").write_text(text, encoding="utf-8")
    with pytest.raises(FolderError, match=r"study\.json.*Put the file back") as refused, opened(tmp_path, sum_job):
        pass
    assert "\n" not in str(refused.value)
    assert len(whole(tmp_path)) == 1000


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_folder_that_becomes_unwritable_is_said(sum_job, tmp_path, monkeypatch, call):
    def refused(*_):
        raise OSError(errno.EROFS, "Read-only file system")

    with monkeypatch.context() as patched:
        patched.setattr(block_file.os, call, refused)
        with pytest.raises(FolderError, match="Read-only file system"), opened(tmp_path, sum_job):
            pass
    with opened(tmp_path, sum_job), threads() as crew:
        monkeypatch.setattr(block_file.os, call, refused)
        with pytest.raises(FolderError, match=r"Read-only file system\. The rows written so far stay"):
            run.run(sum_job, tmp_path, crew, 50)
    assert list((tmp_path / "rows").iterdir()) == []


def test_another_study_is_not_mixed_in(sum_job, tmp_path):
    ran(sum_job, tmp_path, 500)
    for field, (name, _) in zip(fields(Identity), keys_of(Identity), strict=True):
        other = replace(sum_job, identity=replace(sum_job.identity, **{field.name: "changed"}))
        with pytest.raises(FolderError, match=f"another study: {name} changed"), opened(tmp_path, other):
            pass


def test_a_folder_of_other_things_is_left_alone(sum_job, tmp_path):
    (tmp_path / "thesis.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(FolderError, match=r"holds other things \(thesis.txt\)"), opened(tmp_path, sum_job):
        pass
    assert sorted(p.name for p in tmp_path.iterdir() if p.name != ".lock") == ["thesis.txt"]


def test_a_folder_where_none_can_be_made(sum_job, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(FolderError, match="cannot be written to"), opened(tmp_path / "file" / "out", sum_job):
        pass


def test_two_runs_do_not_write_to_one_folder(sum_job, tmp_path):
    refused = pytest.raises(FolderError, match="another run is writing")
    with opened(tmp_path, sum_job), refused, opened(tmp_path, sum_job):
        pass
    with opened(tmp_path, sum_job):
        pass  # let go


def test_a_full_disk_is_said_and_what_is_done_stays(sum_job, tmp_path, monkeypatch):
    left = [4]

    def fsync(handle: int) -> None:
        left[0] -= 1
        if left[0] < 0:
            raise OSError(errno.ENOSPC, "No space left on device")

    with opened(tmp_path, sum_job), threads() as crew:
        monkeypatch.setattr(block_file.os, "fsync", fsync)
        with pytest.raises(FolderError, match=r"the disk is full\. The rows written so far stay"):
            run.run(sum_job, tmp_path, crew, 50)
        monkeypatch.undo()
        written = list((tmp_path / "rows").iterdir())
        assert len(written) == 2  # each block takes an fsync of its own and one of the folder
        run.run(sum_job, tmp_path, crew, 50)
    assert len(whole(tmp_path)) == 1000


def test_a_disk_too_small_is_said_beforehand(sum_job, tmp_path, monkeypatch):
    monkeypatch.setattr(run.shutil, "disk_usage", lambda folder: type("Usage", (), {"free": 10}))
    told = r"has 0\.000 MB of room left; about 0\.\d+ MB are needed"
    with opened(tmp_path, sum_job), threads() as crew, pytest.raises(FolderError, match=told):
        run.estimated(sum_job, tmp_path, crew)


@dataclass(frozen=True)
class Dying:
    """Kills its own process on the first row, so long as a flag file is there; the flag goes with it."""

    flag: str

    def __call__(self, rows):
        if rows.start == 0 and Path(self.flag).exists():
            Path(self.flag).unlink()
            psutil.Process().kill()
        return Sum()(rows)


@dataclass(frozen=True)
class Doomed:
    """Kills its own process."""

    def __call__(self, rows) -> Answers:
        psutil.Process().kill()
        raise AssertionError


def test_a_worker_that_is_killed_is_replaced(tmp_path, caplog):
    flag = tmp_path / "flag"
    flag.touch()
    job = job_of(Dying(str(flag)), "sobol", (number("x", "uniform", 0.0, 1.0),), 64)
    with opened(tmp_path / "out", job), processes(2) as crew:
        run.run(job, tmp_path / "out", crew, 8)
    assert not flag.exists()
    (told,) = caplog.messages
    assert told.startswith("A worker process ")
    assert told.endswith("; its work is begun again.")
    table = whole(tmp_path / "out")
    assert table["row"].to_list() == list(range(64))
    assert table["total"].equals(table["x"].rename("total"))


def test_workers_that_keep_dying_are_given_up(tmp_path):
    job = job_of(Doomed(), "sobol", (number("x", "uniform", 0.0, 1.0),), 64)
    with opened(tmp_path, job), processes(1) as crew, pytest.raises(CrewError, match="fewer workers"):
        run.run(job, tmp_path, crew, 8)


def test_rows_that_cannot_be_have_no_answers_and_say_why(tmp_path):
    job = job_of(Sum(most=0.5), "sobol", (number("x", "uniform", 0.0, 1.0), number("y", "uniform", 0.0, 1.0)), 64)
    table = ran(job, tmp_path, 16)
    assert table.filter(pl.col("x") > 0.5)["problem"].unique().to_list() == ["too much"]
    assert table.filter(pl.col("x") > 0.5)["total"].null_count() == 32
    assert table.filter(pl.col("x") <= 0.5)["problem"].null_count() == 32
    assert table["total"].null_count() == 32


def test_each_file_tells_units_seed_version_and_scenario(sum_job, tmp_path):
    job = replace(sum_job, identity=Identity(scenario="abc", version="9.9"))
    ran(job, tmp_path, 500)
    for file in (tmp_path / "rows").iterdir():
        told = json.loads(pl.read_parquet_metadata(file)["hangflat"])
        assert (told["seed"], told["version"], told["scenario_sha256"]) == (1, "9.9", "abc")
        assert set(told["units"]) == {"x", "y", "total"}


def test_the_estimate_is_of_what_is_left(sum_job, tmp_path):
    ran(sum_job, tmp_path, 100)
    for start in (100, 700):
        (tmp_path / "rows" / f"{start:010d}-{start + 99:010d}.parquet").unlink()
    with opened(tmp_path, sum_job), threads() as crew:
        there: list[int] = []
        left = run.estimated(sum_job, tmp_path, crew, advanced=there.append)
        assert 0 < left.rows == 200 - sum(there)
        assert left.seconds == pytest.approx(left.rows * left.row_seconds / 2)
        assert np.isfinite(left.size)
