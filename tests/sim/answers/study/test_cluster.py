"""The same blocks on a real Dask cluster on this machine, a worker of which is killed in mid-run."""

import os
import threading
import time

import distributed
import numpy as np
import polars as pl
import psutil
import pytest

from sim.answers.study import needed
from sim.answers.study.crew import CrewError, cluster, processes
from sim.answers.study.folder import missing_rows, opened
from sim.answers.study.run import estimated, run

from .slow_study import slow_job


@pytest.fixture(scope="module")
def dask_cluster():
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0", silence_logs=50
    ) as one:
        yield one


def test_a_killed_worker_costs_nothing_but_time(dask_cluster, tmp_path):
    job = slow_job()
    killed: list[int] = []

    def kill_one(pids: list[int]) -> None:
        while len(list((tmp_path / "rows").glob("*.parquet"))) < 5:
            time.sleep(0.01)
        psutil.Process(pids[0]).kill()
        killed.append(len(list((tmp_path / "rows").glob("*.parquet"))))

    with cluster(dask_cluster.scheduler_address) as crew, opened(tmp_path, job):
        assert crew.workers == 2
        with distributed.Client(dask_cluster.scheduler_address, set_as_default=False) as client:
            pids = list(client.run(os.getpid).values())
        killer = threading.Thread(target=kill_one, args=(pids,))
        killer.start()
        run(job, tmp_path, crew, 10)
        killer.join()
    assert 5 <= killed[0] < 103  # it was killed while blocks were still to come
    table = pl.read_parquet(tmp_path / "rows" / "*.parquet").sort("row")
    assert table["row"].to_list() == list(range(1024))
    assert np.array_equal(table["sine"], np.sin(table["x"]))
    assert np.array_equal(table["x"], job.plan.between(0, 1024).values["x"])


def test_a_cluster_writes_the_same_bytes_as_the_pool_of_this_machine(dask_cluster, sum_job, tmp_path):
    """A scheduler and two workers on the loopback device, against two processes that share pipes."""
    for name, crew_of in (("dask", cluster(dask_cluster.scheduler_address)), ("pool", processes(2))):
        with crew_of as crew, opened(tmp_path / name, sum_job):
            run(sum_job, tmp_path / name, crew, 130)
    names = sorted(p.name for p in (tmp_path / "pool" / "rows").iterdir())
    assert len(names) == 8
    for name in names:
        written = (tmp_path / "dask" / "rows" / name).read_bytes()
        assert written == (tmp_path / "pool" / "rows" / name).read_bytes()


def test_the_estimate_comes_from_the_cluster(dask_cluster, tmp_path):
    with cluster(dask_cluster.scheduler_address) as crew, opened(tmp_path, slow_job()):
        there: list[int] = []
        left = estimated(slow_job(), tmp_path, crew, advanced=there.append)
    assert left.rows + sum(there) == 1024
    assert sum(stop - start for start, stop in missing_rows(tmp_path, 1024)) == left.rows > 0
    assert left.row_seconds >= 3e-3  # what each row of it sleeps


def test_no_scheduler_there(monkeypatch):
    monkeypatch.setattr("sim.answers.study.crew.REACHED_IN", 0.5)
    with (
        pytest.raises(CrewError, match=r"no Dask scheduler answers at tcp://127\.0\.0\.1:9"),
        cluster("tcp://127.0.0.1:9"),
    ):
        pass


def test_an_address_that_is_none():
    for text in ("nowhere", "127.0.0.1", "tcp://127.0.0.1"):
        with pytest.raises(CrewError, match=f'"{text}" is no address of a Dask scheduler'), cluster(text):
            pass


def test_a_cluster_without_workers():
    with distributed.LocalCluster(n_workers=0, dashboard_address=":0", silence_logs=50) as empty:
        refused = pytest.raises(CrewError, match="has no workers; start some: dask worker")
        with refused, cluster(empty.scheduler_address):
            pass


def test_workers_with_another_version(dask_cluster, monkeypatch):
    monkeypatch.setattr("sim.answers.study.crew.metadata.version", lambda name: "99.0")
    refused = pytest.raises(CrewError, match=r"have hangflat .*, this is 99\.0; install the same version")
    with refused, cluster(dask_cluster.scheduler_address):
        pass


def test_what_is_not_installed_is_said(monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    monkeypatch.setitem(__import__("sys").modules, "polars", None)
    with pytest.raises(needed.NotInstalledError, match=r'needs dask.distributed.*pip install.* -e "\.\[cluster\]"'):
        needed.distributed()
    with pytest.raises(needed.NotInstalledError, match=r'needs polars.*pip install.* -e "\.\[study\]"'):
        needed.polars()
