"""The caution that goes with every answer."""

from __future__ import annotations

from typing import Final

from sim.said import word
from sim.telling.language import reader, say, told

CAUTION: Final = word(
    "This is a model, not a measurement. Check any change of weighting or gear in confined water with a qualified "
    "instructor, following the makers' instructions and the rules of the place. hangflat plans no dive and no "
    "decompression."
)


def told_caution(caution: str = CAUTION) -> str:
    """The caution in the reader's language; a translation says that nobody who teaches in it has read it yet."""
    if reader().language == "en":
        return caution
    return say(
        "{caution} (This translation awaits the reading of a native instructor.)",
        caution=told(caution),
    )
