"""The drawing library as it was shipped, whatever the user has set for other work."""

from __future__ import annotations

import logging
import warnings
from functools import cache


class MissingFontError(Exception):
    """The font that comes with the drawing library is not there; the message says what to do."""


@cache
def own_style() -> None:
    """Draw in the shipped style, and without a word on folders, fonts or letters that these lack.

    Raises MissingFontError.
    """
    logging.getLogger("matplotlib").setLevel(logging.CRITICAL)
    warnings.filterwarnings("ignore", r"(?s)Glyph \d+ .*missing from font", UserWarning)
    import matplotlib
    from matplotlib.font_manager import FontProperties, findfont

    matplotlib.rcdefaults()
    # the one that is shipped alone, first of a list that is gone through for every word
    matplotlib.rcParams["font.sans-serif"] = matplotlib.rcParams["font.sans-serif"][:1]
    try:
        findfont(FontProperties(), fallback_to_default=False)
    except ValueError:
        raise MissingFontError(
            "Nothing can be drawn: the font that comes with matplotlib is missing. Install matplotlib anew."
        ) from None
