"""Questions to whoever sits at the terminal, or to a pipe of answers, one a line; a bare Enter takes the default."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from sim.commands.console import UsageError, complain, say
from sim.said import note, word
from sim.telling.language import told

WIDTH: Final = 100
WELCOME: Final = word(
    "Enter takes what stands in [brackets]. A name may be shortened while only one fits: wet 5.\n"
    "Everything can be changed in the file afterwards."
)
JOINED: Final = "\0"  # between words that stay on one line
LONGEST: Final = 1000  # letters of an answer: a pipe may hold anything
T = TypeVar("T")


@dataclass
class Interview:
    """What has been asked so far.

    piped : answers come from a pipe: they are echoed, a wrong one ends it all, where they end the rest is usual
    """

    piped: bool
    asked: int = 0

    def ask(self, name: str, question: str, usual: str, read: Callable[[str], T], default: T) -> T:
        """The answer to a question; ``usual`` is how ``default`` is shown.

        Raises UsageError for a wrong answer from a pipe, KeyboardInterrupt where a terminal's user ends the input.
        """
        if not self.asked:
            say(told(WELCOME))
        self.asked += 1
        prompt = "\n    ".join(textwrap.wrap(f"{question} [{usual}]:", WIDTH)).replace(JOINED, " ") + " "
        while True:
            text = self._answer(prompt)
            if self.piped:
                say(f"{prompt}{text}")
            if not text:
                return default
            try:
                return read(text)
            except ValueError as wrong:
                said = told(wrong.args[0])
                if self.piped:
                    message = note("answer {number}, {name}: {wrong}", number=self.asked, name=name, wrong=said)
                    raise UsageError(message) from None
                complain(f"  {said}")

    def _answer(self, prompt: str) -> str:
        if not self.piped:
            try:
                return input(prompt).strip()
            except EOFError:
                raise KeyboardInterrupt from None
        try:
            line = sys.stdin.readline(LONGEST + 1) if sys.stdin is not None else ""
        except (UnicodeDecodeError, OSError, ValueError):  # ValueError: closed
            message = note("answer {number} is no text; write answers as UTF-8, one a line", number=self.asked)
            raise UsageError(message) from None
        if len(line) > LONGEST:
            message = note(
                "answer {number} is longer than {most} letters; write one answer a line",
                number=self.asked,
                most=LONGEST,
            )
            raise UsageError(message)
        return line.strip()


def one_of(options: Sequence[str]) -> Callable[[str], str]:
    """Reader of one of some names, or of the beginnings of its words where that leaves but one: "wet 5"."""

    def read(text: str) -> str:
        wanted = text.lower().split()
        if " ".join(wanted) in options:
            return " ".join(wanted)
        near = [o for o in options if all(any(w.startswith(part) for w in o.split()) for part in wanted)]
        if len(near) == 1:
            return near[0]
        shown = text if len(text) <= 60 else text[:57] + "..."
        if near:
            raise ValueError(note('"{shown}" may be {near}; write one of them', shown=shown, near=", ".join(near)))
        message = note(
            '"{shown}" is not known here; write one of: {options}', shown=shown, options=", ".join(options)
        )
        raise ValueError(message)

    return read


def yes_or_no(text: str) -> bool:
    """Reader of a yes or a no. Raises ValueError for anything else."""
    known = {"yes": True, "y": True, "no": False, "n": False}
    own = {form: answer for word, answer in known.items() for form in (told(word), told(word)[:1])}
    try:
        return {**own, **known}[text.lower()]
    except KeyError:
        raise ValueError(note("write yes or no")) from None
