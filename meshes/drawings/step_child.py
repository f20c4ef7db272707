"""Turns a STEP file into a GLB and ends: ``python -m meshes.drawings.step_child IN OUT``.

A program of its own, since the reader is compiled code that a damaged file can bring down, or keep busy for hours.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from typing import Final

MOST_MEMORY: Final = 4 * 2**30  # bytes
MOST_SECONDS: Final = 60
CHORD: Final = 0.005  # mm between a curve and its chords
TURN: Final = 0.1  # rad of a curve at most under one chord


def main(words: list[str]) -> int:
    """0 when the GLB was written."""
    with suppress(ImportError, ValueError, OSError):  # not on every system
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (2 * MOST_SECONDS, 2 * MOST_SECONDS))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    import cascadio

    source, target = words
    return int(cascadio.step_to_glb(source, target, tol_linear=CHORD, tol_angular=TURN, use_parallel=False))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
