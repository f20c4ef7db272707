"""What is said of input that cannot be used, in the reader's language."""

from __future__ import annotations

from dataclasses import replace

from scenarios.errors import MOST_SHOWN, ScenarioError
from sim.telling.known_sentences import in_words
from sim.telling.language import reader


def told_error(wrong: Exception) -> str:
    """An error's message, each of its problems with file, line and key as they are."""
    if reader().language == "en":
        return str(wrong)
    if isinstance(wrong, ScenarioError):
        shown = [str(replace(one, message=in_words(one.message))) for one in wrong.problems[:MOST_SHOWN]]
        last = str(wrong).rpartition("\n")[2]
        return "\n".join([*shown, *([in_words(last)] if last.startswith("... and ") else [])])
    message = wrong.args[0] if wrong.args else ""
    return in_words(message) if isinstance(message, str) else str(wrong)
