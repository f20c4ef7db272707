"""The caution that goes with every answer."""

from typing import Final

CAUTION: Final = (
    "This is a model, not a measurement. Check any change of weighting or gear in confined water with a qualified "
    "instructor, following the makers' instructions and the rules of the place. hangflat plans no dive and no "
    "decompression."
)
