"""What importing other people's modules does for nobody here, and is left until it is asked for, or left out.

Modules that scipy and matplotlib pull in and no answer uses are run when somebody first looks into one; anything that
does use them finds them as ever. Nothing here has axes in space, and matplotlib does without them. scipy reads the
documentation of hundreds of its functions to add a table to each, and matplotlib writes some for each of its classes:
in this process they have none. Together this is a quarter of a first answer, and half of what importing matplotlib
takes.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib.abc import Loader
from importlib.machinery import ModuleSpec, PathFinder
from importlib.util import LazyLoader, module_from_spec
from types import ModuleType
from typing import Final

READER: Final = "scipy._lib._docscrape"
UNUSED: Final = frozenset({"numpy.ctypeslib", "numpy.f2py", "numpy.testing", "fontTools.agl", "matplotlib.widgets"})
SOLID: Final = "mpl_toolkits.mplot3d"
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


class Unread(dict[str, list[object]]):
    """Stands in for scipy's ``FunctionDoc``: no section has anything in it."""

    def __init__(self, *_of: object, **_how: object) -> None:
        super().__init__()

    def __missing__(self, section: str) -> list[object]:
        return self.setdefault(section, [])

    def __str__(self) -> str:
        return "\n"


class Reader(ModuleType):
    """Stands in for scipy's reader of documentation, and fetches it for whoever wants more than ``FunctionDoc``."""

    FunctionDoc = Unread

    def __getattr__(self, name: str) -> object:
        if name.startswith("__"):  # what is asked of every module
            raise AttributeError(name)
        parent, _, own = READER.rpartition(".")
        spec = PathFinder.find_spec(READER, sys.modules[parent].__path__)
        if spec is None or spec.loader is None:
            raise AttributeError(f"{READER} has no {name}: scipy has no {own}")
        module = module_from_spec(spec)
        spec.loader.exec_module(module)
        self.__dict__.update(vars(module) | {"FunctionDoc": Unread})
        return vars(self)[name]


def put_off() -> None:
    """From now on, in this process; what is imported already stays."""
    if "scipy" not in sys.modules:
        sys.modules.setdefault(READER, Reader(READER))
    if "matplotlib" not in sys.modules:
        flat = ModuleType(SOLID)
        vars(flat)["Axes3D"] = None  # of which matplotlib makes that it has axes in the plane alone
        sys.modules.setdefault(SOLID, flat)
    if not any(isinstance(finder, PutOff) for finder in sys.meta_path):
        sys.meta_path.insert(0, PutOff())
