"""Names of files as texts: the same letters whatever the system's own encoding has of them.

A file says "tauchér.toml" in UTF-8. Where the system's encoding is plain ASCII, as in the locale C, such a name goes
to and from the disk byte by byte, and Python holds its bytes as lone surrogates.
"""

from __future__ import annotations

import os
from pathlib import Path


def place_named(text: str) -> Path:
    """The path that a text in a file names."""
    return Path(os.fsdecode(text.encode("utf-8", "surrogateescape")))


def name_of(path: str | os.PathLike[str]) -> str:
    """The file's name without its folder, to be told: letters as they are written, "?" for what no letter is."""
    name = os.fsencode(Path(path).name).decode("utf-8", "replace")
    return "".join(letter if letter.isprintable() else "?" for letter in name)
