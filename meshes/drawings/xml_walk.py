"""A walk over an XML file without a tree in memory, to count what is in it before a library builds one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from meshes.drawings.shape_file import ShapeFileError

DEEPEST: Final = 100  # elements within elements


def walked(
    data: bytes,
    opened: Callable[[str, dict[str, str]], None],
    closed: Callable[[], None],
    file: str,
    said: Callable[[str], None] | None = None,
) -> None:
    """Call ``opened(name without its namespace's prefix, attributes)`` and ``closed()`` for each element of ``data``.

    said : called with each piece of text between tags

    Raises ShapeFileError for elements nested too deeply and for a file that declares entities, which can stand for
    any amount of text or for other files; what is no XML raises the parser's own ExpatError.
    """
    from xml.parsers.expat import ParserCreate

    parser, depth = ParserCreate(), 0

    def started(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            raise ShapeFileError(
                f"{file}: elements nested more than {DEEPEST} deep; export the plate's outline alone"
            )
        opened(name.rpartition(":")[2], attributes)

    def ended(_: str) -> None:
        nonlocal depth
        depth -= 1
        closed()

    def refused(*_: Any) -> None:
        raise ShapeFileError(f"{file}: entities are not read; export it again as plain XML")

    parser.StartElementHandler, parser.EndElementHandler = started, ended
    parser.EntityDeclHandler = refused
    parser.CharacterDataHandler = said
    parser.Parse(data, True)
