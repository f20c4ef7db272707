"""What is wrong with a file, said so that its writer can mend it: file, line, key, found, expected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MOST_SHOWN = 10
LONGEST_LINE = 160  # characters of the file's own line that are shown
LONGEST_MESSAGE = 480  # of one problem, its place not counted
LONGEST_PLACE = 200


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong.

    place : file name, or the "--set" it came from;  line : in the file, counted from 1, None if there is none
    key : dotted path such as "lead.0.mass", "" for the file as a whole;  source : the text of that line
    """

    place: str
    message: str
    key: str = ""
    line: int | None = None
    source: str | None = None

    def __str__(self) -> str:
        place = without_middle(self.place, LONGEST_PLACE)
        head = place if self.line is None else f"{place}:{self.line}"
        said = without_middle(": ".join(part for part in (self.key, self.message) if part), LONGEST_MESSAGE)
        text = printable(f"{head}: {said}")
        if self.source is None or self.line is None:
            return text
        return f"{text}\n{self.line:>7} | {printable(shortened(self.source.strip(), LONGEST_LINE))}"


def printable(text: str) -> str:
    """No character of a file may steer the terminal it is shown on."""
    return "".join(c if c.isprintable() else "?" for c in text)


def shortened(text: str, longest: int = 60) -> str:
    """The beginning of a text that may be very long."""
    return text if len(text) <= longest else text[: longest - 3] + "..."


def without_middle(text: str, longest: int) -> str:
    """Beginning and end of a text that may be very long: what was found comes first in a message, what to do last."""
    if len(text) <= longest:
        return text
    first = longest // 3
    return f"{text[:first]} ... {text[len(text) - (longest - first - 5) :]}"


class InnerError(ValueError):
    """A fault found while a table is read, in a key inside it; ``below`` is the way from the table to that key."""

    def __init__(self, message: str, *below: str | int) -> None:
        self.below = below
        super().__init__(message)


class ScenarioError(ValueError):
    """A scenario or parts file that cannot be used; its text is the message for the user, with all problems."""

    def __init__(self, problems: Sequence[Problem], count: int | None = None) -> None:
        """``count`` of all problems, where not all of them were put into words."""
        self.problems = tuple(problems)
        shown = [str(p) for p in self.problems[:MOST_SHOWN]]
        more = (len(self.problems) if count is None else count) - len(shown)
        if more > 0:
            shown.append(f"... and {more} more problems")
        super().__init__("\n".join(shown))
