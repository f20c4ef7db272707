"""What is wrong with a file, said so that its writer can mend it: file, line, key, found, expected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MOST_SHOWN = 10
LONGEST_LINE = 160


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
        head = self.place if self.line is None else f"{self.place}:{self.line}"
        text = _printable(": ".join(part for part in (head, self.key, self.message) if part))
        if self.source is None or self.line is None:
            return text
        shown = self.source if len(self.source) <= LONGEST_LINE else self.source[: LONGEST_LINE - 3] + "..."
        return f"{text}\n{self.line:>7} | {_printable(shown.strip())}"


def _printable(text: str) -> str:
    """No character of a file may steer the terminal it is shown on."""
    return "".join(c if c.isprintable() else "?" for c in text)


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
