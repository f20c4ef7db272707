"""Make .venv beside pyproject.toml and keep it in step with scripts/constraints.txt. Standard library only.

A stamp inside .venv remembers what it was made from, so that a second run costs a few milliseconds.
"""

from __future__ import annotations

import hashlib
import importlib.util
import io
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from install_trouble import explained
from progress import run_shown

ROOT = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
DEMO = "scenarios/demos/small-woman-steel.toml"  # what demo.py shows and bench.py measures


class SetupError(Exception):
    """Setting up cannot go on; the message says why and what to do."""


def ensure(extra: str = "", *, root: Path = ROOT) -> Path:
    """Python of ``root/.venv`` with the pinned packages and the project installed; ``extra``: "" or "dev".

    Returns at once when the stamp shows that nothing changed. Raises SetupError.
    """
    _print_any_name()
    stamp = root / ".venv" / "hangflat-setup.json"
    if _is_up_to_date(stamp, extra, root):
        return venv_python(root)
    print(
        "Setting up hangflat in .venv: the first time this fetches a few hundred MB and takes some minutes.",
        flush=True,
    )
    stamp.unlink(missing_ok=True)
    uv = shutil.which("uv")
    _make_venv(root, uv)
    _install(root, extra, uv)
    stamp.write_text(json.dumps({"made_from": fingerprint(root), "extra": extra}), encoding="utf-8")
    return venv_python(root)


def venv_python(root: Path = ROOT) -> Path:
    """Path of the Python inside ``root/.venv`` (which may not exist yet)."""
    return venv_tool("python", root)


def venv_tool(name: str, root: Path = ROOT) -> Path:
    """Path of a command inside ``root/.venv``."""
    if os.name == "nt":
        return root / ".venv" / "Scripts" / f"{name}.exe"
    return root / ".venv" / "bin" / name


def fingerprint(root: Path = ROOT) -> str:
    """Hash of all that decides what .venv must hold: pins, pyproject, the interpreter's version and the folder."""
    digest = hashlib.sha256(os.fsencode(root))
    for file in (root / "scripts" / "constraints.txt", root / "pyproject.toml", root / ".venv" / "pyvenv.cfg"):
        digest.update(b"\0" + file.read_bytes())
    return digest.hexdigest()


def _print_any_name() -> None:
    """Let the folder's name be printed whatever letters are in it: an older code page shows what it lacks as \\x.."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _is_up_to_date(stamp: Path, extra: str, root: Path) -> bool:
    try:
        made = json.loads(stamp.read_text(encoding="utf-8"))
        current = made["made_from"] == fingerprint(root) and made["extra"] in (extra, "dev")
    except (OSError, ValueError, KeyError, TypeError):
        return False
    return current and venv_python(root).exists()


def _make_venv(root: Path, uv: str | None) -> None:
    venv = root / ".venv"
    if _python_works(root):
        return
    if venv.exists() and not (venv / "pyvenv.cfg").exists() and any(venv.iterdir()):
        raise SetupError(f"{venv} exists but is no virtual environment. Move it away and run this again.")
    commands = [[uv, "venv", "--quiet", "--clear", "--python", sys.executable, str(venv)]] if uv else []
    commands.append([sys.executable, "-m", "venv", "--clear", str(venv)])
    for command in commands:
        if command[0] == sys.executable:
            _require_venv_module()
        done = subprocess.run(command, capture_output=True, text=True, errors="replace", env=_clean_environment())
        if done.returncode == 0:
            return
    raise SetupError(f"{venv} could not be made.\n{done.stdout}{done.stderr}\n{explained(done.stdout + done.stderr)}")


def _python_works(root: Path) -> bool:
    """Whether .venv's Python starts and is new enough (a moved or upgraded base Python breaks a .venv)."""
    code = f"import sys, site; sys.exit(not (sys.version_info >= {OLDEST} and sys.prefix != sys.base_prefix))"
    try:
        done = subprocess.run([venv_python(root), "-c", code], capture_output=True, env=_clean_environment())
    except OSError:
        return False
    return done.returncode == 0


def _require_venv_module() -> None:
    if importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip"):
        return
    version = f"{sys.version_info[0]}.{sys.version_info[1]}"
    raise SetupError(
        f"This Python ({sys.executable}) cannot make virtual environments: its venv or ensurepip module is missing.\n"
        f"On Debian or Ubuntu:  sudo apt install python{version}-venv   (or python3-venv)\n"
        "Elsewhere: install the full Python, then run this again."
    )


def _install(root: Path, extra: str, uv: str | None) -> None:
    """Setuptools first, so that the project builds with the pinned one and not with whatever is newest."""
    python, pins = str(venv_python(root)), str(root / "scripts" / "constraints.txt")
    target = ["--no-build-isolation", "--editable", f".[{extra}]" if extra else "."]
    pip = [python, "-m", "pip", "--disable-pip-version-check", "--no-input", "install", "--progress-bar", "off"]
    log = root / ".venv" / "hangflat-setup.log"
    log.unlink(missing_ok=True)
    installers = [[uv, "pip", "install", "--no-progress", "--python", python]] if uv else []
    installers.append(pip)
    for installer in installers:
        if installer is pip:
            _require_pip(python)
        for title, what in (("build tool", ["setuptools"]), ("packages", target)):
            command = [*installer, "--constraint", pins, *what]
            code, output = run_shown(title, command, cwd=root, env=_clean_environment(), log=log)
            if code:
                break
        if code == 0:
            return
    end = "\n".join(output.strip().splitlines()[-12:])
    raise SetupError(f"{end}\n\n{explained(output)}\nAll of the output: {log}")


def _require_pip(python: str) -> None:
    """A .venv made by uv holds no pip; Python's own copy of it will do."""
    env = _clean_environment()
    if subprocess.run([python, "-c", "import pip"], capture_output=True, env=env).returncode == 0:
        return
    if subprocess.run([python, "-m", "ensurepip"], capture_output=True, env=env).returncode:
        raise SetupError("There is no pip in .venv and none could be put there. Delete .venv and run this again.")


def _clean_environment() -> dict[str, str]:
    """This environment without what would lead .venv's Python or pip to other packages."""
    unwanted = {
        "PYTHONHOME",
        "PYTHONPATH",
        "__PYVENV_LAUNCHER__",
        "PIP_USER",
        "PIP_TARGET",
        "PIP_PREFIX",
        "PIP_CONSTRAINT",
    }
    return {k: v for k, v in os.environ.items() if k not in unwanted} | {"PYTHONUTF8": "1"}
