"""Demo scenarios with invented people: read them, change them, settle them."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path


def demo_names() -> tuple[str, ...]:
    """Names of the demo scenarios, as :func:`demo_path` takes them."""
    found = (f.name.removesuffix(".toml") for f in files(__name__).iterdir() if f.name.endswith(".toml"))
    return tuple(sorted(found))


def demo_path(name: str) -> Path:
    """File of a demo scenario. Raises ValueError for a name there is none of."""
    if name not in demo_names():
        raise ValueError(f'there is no demo "{name}"; known: {", ".join(demo_names())}')
    return Path(str(files(__name__).joinpath(f"{name}.toml")))
