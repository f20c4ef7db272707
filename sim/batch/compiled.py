"""How the inner loops are compiled, and where what was compiled is kept."""

from __future__ import annotations

import hashlib
import os
import stat
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

import numba
from numba.extending import register_jitable
from platformdirs import user_cache_path

from sim import cell_laws
from sim.batch import elementary
from sim.statics import equations

# Sums may be taken in another order and a product may be fused with a sum; NaN and infinity keep their meaning.
FAST: Final = {"reassoc", "contract", "nsz", "arcp"}
HERE: Final = Path(__file__).parent

for _formula in (
    cell_laws.loaded, cell_laws.logistic_cell, cell_laws.garment_cell, cell_laws.garment_sides,
    cell_laws.garment_held, cell_laws.garment_numbers, cell_laws.garment_ready,
    equations.excess_gas, equations.absorbed, equations.mean_lever, equations.bend, equations.refill,
    equations.neutral_wing, equations.pitching, equations.pitch_curvature, equations.tangent_axes,
):  # fmt: skip
    register_jitable(_formula)


def part(function: Callable[..., Any], *, inlined: bool = True) -> Any:
    """Function that compiled loops may call; ``inlined`` spares handing over a rig's row of forty numbers."""
    return register_jitable(forceinline=inlined)(function)


def loop(function: Callable[..., Any]) -> Any:
    """Function compiled when first called (some seconds), and kept on disk where a folder can be written to."""
    folder = _cache_folder()
    settings: Any = numba.config
    before = settings.CACHE_DIR
    settings.CACHE_DIR = "" if folder is None else str(folder)
    try:
        make = numba.njit(fastmath=FAST, error_model="numpy", nogil=True, cache=folder is not None)
        compiled = make(function)
    finally:
        settings.CACHE_DIR = before
    if folder is not None and not settings.DISABLE_JIT:
        _compile_anew_where_damaged(compiled)
    return compiled


def _compile_anew_where_damaged(compiled: Any) -> None:
    """Let a file of the cache that cannot be read count as not there; numba would end with the reader's error."""
    cache = compiled._cache
    load = cache.load_overload

    def load_overload(*of: Any) -> Any:
        try:
            return load(*of)
        except Exception:  # whatever reading rubbish as a pickle may raise
            with suppress(OSError):
                cache.flush()
            return None

    cache.load_overload = load_overload


def _cache_folder() -> Path | None:
    """A folder of this user's for exactly these sources, or None where none can be written to.

    numba looks only at the file that holds the loop; the name of the folder follows from every file it is made of.
    """
    digest = hashlib.sha256()
    statics = Path(str(equations.__file__)).parent
    for source in (*sorted(HERE.glob("*.py")), *sorted(statics.glob("*.py")), Path(str(cell_laws.__file__))):
        digest.update(source.read_bytes())
    asked = os.environ.get("NUMBA_CACHE_DIR")
    for base in (Path(asked) if asked else user_cache_path("hangflat"), _own_temporary()):
        if base is None:
            continue
        folder = base / "compiled" / digest.hexdigest()[:16]
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with tempfile.TemporaryFile(dir=folder):
                return folder
        except OSError:
            continue
    return None


def _own_temporary() -> Path | None:
    """A folder among the temporary ones that nobody else can have put code into; None where there is none."""
    if os.name == "nt":  # where each user has temporary folders of their own
        return Path(tempfile.gettempdir()) / "hangflat"
    folder = Path(tempfile.gettempdir()) / f"hangflat-{os.getuid()}"
    with suppress(OSError):
        folder.mkdir(mode=0o700, exist_ok=True)
        found = folder.lstat()
        if stat.S_ISDIR(found.st_mode) and found.st_uid == os.getuid() and not found.st_mode & 0o077:
            return folder
    return None


__all__ = ["elementary", "loop", "part"]
