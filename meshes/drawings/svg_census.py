"""What an SVG drawing comes to when its copies are made, counted before anyone makes them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from meshes.drawings.shape_file import ShapeFileError
from meshes.drawings.xml_walk import walked

# reading takes as long for a shape as for ten numbers; 100,000 points are 200,000 numbers
SHAPE: Final = 10
MOST_READ: Final = 350_000
WORDS_READ: Final = 32  # letters of any other attribute that take as long as a number
NUMBERS: Final = ("d", "points", "transform", "viewBox")
LONGEST: Final = 2_000  # letters of an attribute of these, which take as long to read as the square of their length
SQUARED: Final = ("transform", "style", "class", "viewBox", "preserveAspectRatio", "fill", "stroke", "color", "font")
MOST_STYLE: Final = 50_000  # letters of style sheets: rules that name one class are strung together, again and again
NUMBER: Final = re.compile(r"\d*\.?\d+(?:[eE][-+]?\d+)?|[a-zA-Z]")


@dataclass
class _Element:
    numbers: int  # of its own attributes, which its descendants may inherit
    copied: str  # id of what a <use> copies, or nothing
    within: list[_Element] = field(default_factory=list)
    total: tuple[int, int] | None = None  # shapes and numbers with all that is within or copied
    open: bool = False


def check_svg(data: bytes, file: str) -> None:
    """Raise ShapeFileError when the drawing comes to too many shapes or numbers, or copies itself."""
    root, named = _Element(0, ""), dict[str, _Element]()
    trail = [root]
    names, styles = [""], [0]

    def opened(name: str, attributes: dict[str, str]) -> None:
        short = {key.rpartition(":")[2]: value for key, value in attributes.items()}
        for key in SQUARED:
            if (letters := len(short.get(key, ""))) > LONGEST:
                raise ShapeFileError(
                    f"{file}: an attribute {key} of {letters} letters, at most {LONGEST} are read; export the "
                    "plate's outline and holes alone"
                )
        numbers = sum(len(NUMBER.findall(short.pop(key, ""))) for key in NUMBERS)
        numbers += sum(map(len, short.values())) // WORDS_READ
        element = _Element(numbers, short.get("href", "").strip().lstrip("#") if name == "use" else "")
        names.append(name)
        trail[-1].within.append(element)
        trail.append(element)
        if "id" in short:
            named.setdefault(short["id"], element)

    def closed() -> None:
        del trail[-1], names[-1]

    def said(text: str) -> None:
        if names[-1] != "style":
            return
        styles[0] += len(text)
        if styles[0] > MOST_STYLE:
            raise ShapeFileError(
                f"{file}: style sheets of more than {MOST_STYLE} letters; export the plate's outline and holes "
                "alone, without styles"
            )

    walked(data, opened, closed, file, said)
    shapes, numbers = _total(root, named, file)
    if SHAPE * shapes + numbers > MOST_READ:
        raise ShapeFileError(
            f"{file}: with its copies (<use>) the drawing comes to {_few(shapes)} elements and {_few(numbers)} "
            f"numbers, more than the {MOST_READ // 2} points that are read; export the plate's outline and holes "
            "alone, without pictures"
        )


def _total(element: _Element, named: dict[str, _Element], file: str, depth: int = 0) -> tuple[int, int]:
    """Elements and numbers of an element, all copies made; its numbers count for each of them, which inherit them."""
    if element.open or depth > 200:
        raise ShapeFileError(
            f"{file}: a <use> copies itself, or copies of copies go too deep; turn copies into paths"
        )
    if element.total is None:
        element.open = True
        copied = [named[element.copied]] if element.copied in named else []
        parts = [_total(e, named, file, depth + 1) for e in (*element.within, *copied)]
        shapes = 1 + sum(n for n, _ in parts)
        element.total = shapes, element.numbers * shapes + sum(k for _, k in parts)
        element.open = False
    return element.total


def _few(count: int) -> str:
    return str(count) if count < 10**9 else "billions of"
