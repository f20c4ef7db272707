"""What importing other people's modules does for nobody here, and is left until it is asked for, or left out.

Modules that scipy pulls in with all of numpy and no answer uses are run when somebody first looks into one: a tenth
of a first answer. matplotlib writes documentation for each of its classes as they are made: half of its import.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib.abc import Loader
from importlib.machinery import ModuleSpec, PathFinder
from importlib.util import LazyLoader
from types import ModuleType
from typing import Final

UNUSED: Final = frozenset({"numpy.ctypeslib", "numpy.f2py", "numpy.testing"})
DOCUMENTING: Final = "matplotlib.artist"


class PutOff:
    """Finds such modules where they are: the ``UNUSED`` wait to be run, the ``DOCUMENTING`` writes nothing."""

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None, /
    ) -> ModuleSpec | None:
        """The module's spec with a loader of ours; None for every other module."""
        if name not in UNUSED and name != DOCUMENTING:
            return None
        spec = PathFinder.find_spec(name, path, target)
        if spec is not None and spec.loader is not None:
            spec.loader = Undocumented(spec.loader) if name == DOCUMENTING else LazyLoader(spec.loader)
        return spec


class Undocumented(Loader):
    """Runs a module as ever, and then has it write no documentation for the classes that follow."""

    def __init__(self, usual: Loader) -> None:
        self._usual = usual

    def create_module(self, spec: ModuleSpec) -> ModuleType | None:
        """As ever."""
        return self._usual.create_module(spec)

    def exec_module(self, module: ModuleType) -> None:
        """A release of matplotlib without these names documents itself, and all works as well."""
        self._usual.exec_module(module)
        artist, writes = getattr(module, "Artist", None), "_update_set_signature_and_docstring"
        if hasattr(artist, writes):
            setattr(artist, writes, classmethod(lambda cls: None))
        if hasattr(module, "kwdoc"):
            vars(module)["kwdoc"] = lambda artist: ""


def put_off() -> None:
    """From now on, in this process; what is imported already stays."""
    if not any(isinstance(finder, PutOff) for finder in sys.meta_path):
        sys.meta_path.insert(0, PutOff())
