"""STEP by its optional reader, cascadio, in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final

from meshes.drawings.shape_file import ShapeFileError
from meshes.drawings.step_child import MOST_SECONDS
from meshes.extra_packages import how_to_get

READER: Final = (sys.executable, "-P", "-m", "meshes.drawings.step_child")  # -P: not what lies in this folder
EXTRA: Final = "step"


def glb_of_step(data: bytes, file: str) -> bytes:
    """The solids of a STEP file as a GLB, in metres.

    Raises ShapeFileError where the reader is not installed, ends without an answer, or takes too long.
    """
    from importlib.util import find_spec

    if find_spec("cascadio") is None:
        raise ShapeFileError(
            f"{file}: STEP needs the optional package cascadio; export STL or 3MF, or {how_to_get(EXTRA)}"
        )
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(os.path.abspath(p) for p in sys.path if p)}
    with tempfile.TemporaryDirectory() as folder:
        source, target = Path(folder, "in.step"), Path(folder, "out.glb")
        source.write_bytes(data)
        words = [*READER, str(source), str(target)]
        try:
            done = subprocess.run(words, capture_output=True, timeout=MOST_SECONDS, env=environment, check=False)
        except subprocess.TimeoutExpired:
            raise ShapeFileError(
                f"{file}: not read as STEP within {MOST_SECONDS} s; export the plate alone, or as STL"
            ) from None
        if done.returncode == 0 and target.is_file():
            return target.read_bytes()
    raise ShapeFileError(
        f"{file}: cannot be read as STEP; it may be damaged, cut short or of another kind: export it again, or as STL"
    )
