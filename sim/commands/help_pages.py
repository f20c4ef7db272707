"""Pages of help: what can be given on the left, what it means beside it, as wide as the terminal lets them be."""

from __future__ import annotations

import shutil
import textwrap
from typing import TYPE_CHECKING, Any, Final

from sim.commands.reader import WHAT
from sim.said import word
from sim.telling.language import say, told

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cyclopts.help import HelpEntry, HelpPanel
    from rich.console import Console, ConsoleOptions

MOST_WIDE: Final = 100  # letters: longer lines are hard to read
MOST_LEFT: Final = 24  # letters that names get before their meaning goes below them
INDENT: Final = "  "
BEGIN: Final = ("hangflat new diver.toml", "hangflat settle diver.toml --picture diver.png")  # as it is typed
# what the library writes of its own
ITS_OWN: Final = (
    word("Arguments"), word("Parameters"), word("Commands"), word("Display this message and exit."),
    word("Display application version."),
)  # fmt: skip


class HelpPages:
    """Writes each part of a page for the library that reads the command line."""

    def __call__(self, console: Console, options: ConsoleOptions, panel: HelpPanel) -> None:
        rows = [(names(entry), meaning(entry)) for entry in panel.entries]
        if panel.title == "Parameters":
            rows += ((name, told(what)) for name, what in WHAT.items())
        if rows:
            _write(console, [f"{told(str(panel.title))}:", *table(rows, _width()), ""])
            if panel.title == "Commands" and any(name == BEGIN[0].split()[1] for name, _ in rows):
                _write(console, _start())

    def render_usage(self, console: Console, options: ConsoleOptions, usage: Any) -> None:
        """The line that shows the order of what is given."""
        if usage:
            _write(console, [say("Usage: {usage}", usage=_plain(usage).removeprefix("Usage:").strip()), ""])

    def render_description(self, console: Console, options: ConsoleOptions, description: Any) -> None:
        """What the command does."""
        if description:
            _write(console, [*wrapped(in_words(description), _width()), ""])


def _start() -> list[str]:
    """What to begin with, the commands below each other."""
    first, then = say("Start with:"), say("then:")
    wide = max(len(first), len(then))
    return [*("  ".join([words.ljust(wide), line]) for words, line in zip((first, then), BEGIN, strict=True)), ""]


def names(entry: HelpEntry) -> str:
    """What is typed, "--plate STR..."."""
    return ", ".join(entry.display_labels_with_metavar)


def meaning(entry: HelpEntry) -> str:
    """What it does, and what it may be."""
    words = in_words(entry.description)
    if entry.choices:
        words += f" [{' | '.join(entry.choices)}]"
    return words + (say(" [required]") if entry.required else "")


def in_words(text: Any) -> str:
    """What the library hands over in the reader's language, a paragraph at a time."""
    return "\n\n".join(told(" ".join(paragraph.split())) for paragraph in _plain(text).strip().split("\n\n"))


def table(rows: list[tuple[str, str]], width: int) -> Iterator[str]:
    """Rows of names and meanings in two columns, no line longer than ``width`` letters."""
    left = min(max(len(name) for name, _ in rows), MOST_LEFT)
    hang = " " * (len(INDENT) + left + 2)
    for name, words in rows:
        lines = wrapped(words, width, hang)
        if len(name) <= left:
            yield f"{INDENT}{name:<{left}}  {lines[0].strip()}".rstrip() if lines else f"{INDENT}{name}"
            yield from lines[1:]
        else:
            yield f"{INDENT}{name}"
            yield from lines


def wrapped(words: str, width: int, hang: str = "") -> list[str]:
    """Words in lines, each after ``hang``; line breaks inside a paragraph are not kept, empty lines are."""
    room = max(min(width, MOST_WIDE), len(hang) + 20)
    lines: list[str] = []
    for paragraph in words.strip().split("\n\n"):
        if lines:
            lines.append("")
        lines += textwrap.wrap(
            " ".join(paragraph.split()), room, initial_indent=hang, subsequent_indent=hang, break_on_hyphens=False
        )
    return lines


def _width() -> int:
    """Letters in a line of the terminal as it is now: a console knows only how wide it was when it was made."""
    return shutil.get_terminal_size().columns


def _plain(text: Any) -> str:
    """Words of what the library hands over, which may carry styles."""
    if text is None:
        return ""
    if hasattr(text, "plain"):
        return str(text.plain)
    inner = getattr(text, "primary_renderable", None)
    return str(text) if inner is None else _plain(inner)


def _write(console: Console, lines: list[str]) -> None:
    for line in lines:
        console.print(line, highlight=False, markup=False, soft_wrap=True)
