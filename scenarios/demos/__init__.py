"""Demo scenarios with invented people: read them, change them, settle them.

Depends on nothing.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Final

SHOWS: Final = {
    "small-woman-carbon": "a plate of her size, gaiters, springs on the fins, lead worn low: she hangs nearly flat",
    "small-woman-steel": "the same woman on a plate too long for her: head-down, and what bars her head",
    "tall-man-steel": "a tall man brought to balance by gaiters, springs on the fins and lead worn low",
    "tall-man-carbon": "the same man on a small plate: what it changes in reach, weight and balance",
    "single-wetsuit": "one cylinder and foam that thins with depth: little to turn him, and nothing to migrate",
    "side-hung": "cylinders along the flanks and a stage: their bases float up as they empty",
    "rebreather": "breath that moves between lungs and counterlungs and lifts nobody; a bail-out cylinder",
    "calibrated-diver": "the model fitted to one diver's pool measurements: how much surer it is now",
    "loose-legs": "wide legs, large boots, hardly vented: gas in the feet turns him head-down",
}


def demo_names() -> tuple[str, ...]:
    """Names of the demo scenarios, as :func:`demo_path` takes them."""
    return tuple(sorted(SHOWS))


def demo_files() -> tuple[Path, ...]:
    """The demo scenarios and what belongs to them: measurements, and what was learnt from these."""
    found = (Path(str(f)) for f in files(__name__).iterdir() if f.name.endswith(".toml"))
    return tuple(sorted(found, key=lambda f: f.name))


def demo_path(name: str) -> Path:
    """File of a demo scenario. Raises ValueError for a name there is none of."""
    if name not in demo_names():
        raise ValueError(f'there is no demo "{name}"; known: {", ".join(demo_names())}')
    return Path(str(files(__name__).joinpath(f"{name}.toml")))
