"""How to get a library that only an optional extra brings, into the Python that runs."""

from __future__ import annotations

import os
import shlex
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Final

WINDOWS: Final = os.name == "nt"
FOLDER: Final = Path(__file__).parents[1]  # hangflat's own, where it is installed in place


def how_to_get(extra: str) -> str:
    """The command that installs an extra where this Python finds it, ending a sentence that says what lacks."""
    start = "py" if WINDOWS else "python3"
    return (
        "in hangflat's own folder, get it with: "
        f'{pip_install()} -e ".[{extra}]"  ({start} scripts/check.py sets it up in .venv, too)'
    )


def pip_install() -> str:
    """How a command begins that installs into this Python; an environment that uv made has no pip of its own."""
    return f"{_python()} -m pip install" if find_spec("pip") else f"uv pip install --python {_python()}"


def _python() -> str:
    """The Python that runs, as it is typed in hangflat's folder."""
    if Path(sys.prefix) == FOLDER / ".venv":
        return r".venv\Scripts\python" if WINDOWS else ".venv/bin/python"
    if WINDOWS:
        return f'"{sys.executable}"' if " " in sys.executable else sys.executable
    return shlex.quote(sys.executable)
