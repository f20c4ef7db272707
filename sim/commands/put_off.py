"""Modules that scipy pulls in with all of numpy and no answer uses: they are run when somebody first looks into one.

They are a tenth of what a first answer takes. Anything that does use them finds them as ever.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib.machinery import ModuleSpec, PathFinder
from importlib.util import LazyLoader
from types import ModuleType
from typing import Final

UNUSED: Final = frozenset({"numpy.ctypeslib", "numpy.f2py", "numpy.testing"})


class PutOff:
    """Finds the ``UNUSED`` modules where they are, and puts off running them."""

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None, /
    ) -> ModuleSpec | None:
        """The module's spec with a loader that waits; None for every other module."""
        if name not in UNUSED:
            return None
        spec = PathFinder.find_spec(name, path, target)
        if spec is not None and spec.loader is not None:
            spec.loader = LazyLoader(spec.loader)
        return spec


def put_off() -> None:
    """From now on, in this process; what is imported already stays."""
    if not any(isinstance(finder, PutOff) for finder in sys.meta_path):
        sys.meta_path.insert(0, PutOff())
