"""Processes that share work: what comes back, and that none outlives the process that began them."""

import os
import subprocess
import sys
import time
from multiprocessing import forkserver, get_all_start_methods
from pathlib import Path

import psutil
import pytest

from sim.worker_pool import WorkerPool, WorkersLostError, worker_pool

ROOT = Path(__file__).parents[2]


def double(x):
    return 2 * x


def refused(x):
    raise ValueError(f"not {x}")


def unsendable(x):
    return lambda: x


def dying(pid_file):
    """Ends its process unless it did so before; its process's id."""
    if not os.path.exists(pid_file):
        Path(pid_file).write_text(str(os.getpid()), encoding="utf-8")
        psutil.Process().kill()
    return os.getpid()


def doomed():
    os._exit(3)


def busy():
    """For ever, in Python."""
    while True:
        pass


def test_answers_come_in_order_and_faults_come_through():
    with worker_pool(2) as pool:
        assert list(pool.map(double, range(20))) == list(range(0, 40, 2))
        with pytest.raises(ValueError, match="not 3") as error:
            pool.submit(refused, 3).result()
        assert "in refused" in error.value.__notes__[0]
        with pytest.raises(TypeError, match="answer cannot be sent"):
            pool.submit(unsendable, 3).result()
        assert pool.submit(double, 4).result() == 8


def test_work_of_a_process_that_ended_is_given_to_another(tmp_path, caplog):
    with WorkerPool(1, ready=()) as pool:
        first = pool.submit(dying, str(tmp_path / "pid")).result()
        assert first != int((tmp_path / "pid").read_text(encoding="utf-8"))
        with pytest.raises(WorkersLostError, match="ended 3 times over the same piece of work"):
            pool.submit(doomed).result()
        assert pool.submit(double, 4).result() == 8
    assert "ended by itself (exit code 3); its work is begun again." in caplog.messages[1]
    assert "its work is given up" in caplog.messages[3]


@pytest.mark.skipif("forkserver" not in get_all_start_methods(), reason="processes are not copied here")
def test_a_process_killed_while_it_starts_is_begun_again(monkeypatch):
    """One that is killed before it has said its number: the pipe on which it would say it is seen to close."""
    killed = []

    def number_of(pipe):
        if len(killed) == 3:
            return said(pipe)
        killed.append(said(pipe))
        psutil.Process(killed[-1]).kill()
        raise EOFError("unexpected EOF")

    said = forkserver.read_signed
    monkeypatch.setattr(forkserver, "read_signed", number_of)
    with WorkerPool(1, ready=()) as pool:
        with pytest.raises(WorkersLostError, match="3 worker processes ended while they were started"):
            pool.submit(double, 4).result()
        killed.pop()
        assert pool.submit(double, 4).result() == 8
    assert len(killed) == 3


def test_leaving_does_not_wait_for_work():
    started = time.monotonic()
    with WorkerPool(1, ready=()) as pool:
        assert pool.submit(double, 1).result() == 2
        pool.submit(busy)
    assert time.monotonic() - started < 30.0  # it would never end
    assert not any(child.name() == "worker" for child in psutil.Process().children())


BEGIN = """\
import time
from tests.sim.test_worker_pool import busy
from sim.worker_pool import WorkerPool
if __name__ == "__main__":
    with WorkerPool(2, ready=()) as pool:
        pool.submit(int).result()
        pool.submit(busy), pool.submit(time.sleep, 1000.0)
        time.sleep(0.2)
        print("at work", flush=True)
        time.sleep(1000.0)
"""


def test_no_process_outlives_one_that_was_killed(tmp_path):
    """Neither one that is at work in Python, nor one that waits in the system, nor those that start them."""
    script = tmp_path / "begin.py"
    script.write_text(BEGIN, encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    task = subprocess.Popen([sys.executable, str(script)], cwd=ROOT, env=env, stdout=subprocess.PIPE)
    assert task.stdout.readline().strip() == b"at work"
    begun = psutil.Process(task.pid).children(recursive=True)
    assert len(begun) >= 2
    task.kill()
    task.communicate()
    assert psutil.wait_procs(begun, timeout=5.0)[1] == []
