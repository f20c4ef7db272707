"""How wide words are, from the letters' own advances: quick enough to wrap whole paragraphs."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from sim.drawing.own_style import own_style
from sim.telling.words import GLUE, unbroken

EM: Final = 100.0  # size at which letters are measured
HINTED: Final = 0.05  # of a line's width that it comes out wider at most, each letter set on whole pixels (measured)


def set_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line set at ``size``, in the same unit, kerning (a hundredth of it) left out."""
    return sum(_advance(letter, bold) for letter in text) * size / EM


def size_for(
    text: str, room: float, size: float, *, bold: bool = False, least: float = 0.0, zoom: float = 1.0
) -> float:
    """``size``, or as much smaller as a line needs to fit into ``room``, but ``least`` at the least.

    zoom : true pixels in one of ``size`` and ``room``
    """
    wide = (1.0 + HINTED / zoom) * set_width(text, size, bold=bold)
    return max(size * min(1.0, room / wide), least) if wide > 0.0 else size


def wrapped_to(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Lines of whole words, none wider than ``room`` unless a single word is; a number keeps its unit."""
    lines: list[str] = []
    for word in unbroken(" ".join(text.split())).replace(" ", "\n").replace(GLUE, " ").splitlines():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and set_width(longer, size, bold=bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def parted(text: str, room: float, size: float) -> str:
    """The text with a blank in each word wherever it must break to be no wider than ``room``."""
    found = ""
    line = 0.0
    for letter in text:
        wide = set_width(letter, size)
        line = 0.0 if letter.isspace() else line + wide
        if line > room:
            found, line = found + " ", wide
        found += letter
    return found


@cache
def _advance(letter: str, bold: bool) -> float:
    from matplotlib.font_manager import get_font
    from matplotlib.ft2font import LoadFlags

    font = get_font(_font_file(bold))
    font.set_size(EM, 72)
    if not font.get_char_index(ord(letter)):
        # drawn as a box of another font, whose own width is all that can be had of it
        font.set_text(letter, flags=LoadFlags.NO_HINTING)
        return float(font.get_width_height()[0]) / 64.0
    return float(font.load_char(ord(letter), LoadFlags.NO_HINTING).linearHoriAdvance) / 65536.0


@cache
def _font_file(bold: bool) -> Any:
    """Where the font lies that words are set in."""
    own_style()
    from matplotlib.font_manager import FontProperties, findfont

    return findfont(FontProperties(weight="bold" if bold else "normal"))
