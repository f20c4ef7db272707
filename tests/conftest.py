import importlib
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

os.environ["LC_ALL"] = "C.UTF-8"  # English, wherever the tests run

# how fast inputs are drawn says how busy the machine is, not whether the program is right
settings.register_profile("steady", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")

SCRIPTS = Path(__file__).parents[1] / "scripts"


@pytest.fixture
def script(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str], ModuleType]]:
    """Imports a module of scripts/ by name, fresh for each test."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    before = set(sys.modules)
    yield importlib.import_module
    for name in set(sys.modules) - before:
        if Path(getattr(sys.modules[name], "__file__", None) or "").parent == SCRIPTS:
            del sys.modules[name]


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """All tests of a file in one process, so that what they share is made once."""
    from xdist.scheduler import LoadFileScheduling

    return LoadFileScheduling(config, log) if config.getvalue("dist") == "load" else None
