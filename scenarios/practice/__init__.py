"""Set-ups that the trade dives flat and still every day (common practice, no source), on invented people.

Depends on nothing.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Final

SET_UPS: Final = {
    "A": "a-twin-steel",
    "B": "b-twin-aluminium-plate",
    "C": "c-small-woman",
    "E": "e-single-drysuit",
    "G": "g-single-wetsuit",
}


def practice_path(letter: str) -> Path:
    """File of a set-up by its letter. Raises KeyError for a letter there is none of."""
    return Path(str(files(__name__).joinpath(f"{SET_UPS[letter]}.toml")))
