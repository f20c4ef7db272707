"""``--language`` and ``--units``, which every command takes: read off the command line before it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple, cast

from sim.commands.console import UsageError
from sim.said import note, word
from sim.telling.language import LANGUAGES, UNITS, Units

WHAT: Final = {
    "--language": word(
        "Words and pictures in en, de, pl or fr; else as the system has it. JSON and tables stay English."
    ),
    "--units": word("Words and pictures in metric or imperial units. JSON and tables stay metric."),
}
ALLOWED: Final[Mapping[str, tuple[str, ...]]] = {"--language": LANGUAGES, "--units": UNITS}
# where systems say which language is wanted, the weightiest first (POSIX, and gettext's LANGUAGE)
LOCALE: Final = ("LC_ALL", "LC_MESSAGES", "LANG")


class Asked(NamedTuple):
    """The command line without the two options, and what they say."""

    words: list[str]
    language: str
    units: Units


def asked(words: Sequence[str], environment: Mapping[str, str]) -> Asked:
    """Raises UsageError for a language or units that there are none of."""
    kept: list[str] = []
    said: dict[str, str] = {}
    left = iter(words)
    for one in left:
        name, equals, value = one.partition("=")
        if one == "--":
            kept += [one, *left]
        elif name not in ALLOWED:
            kept.append(one)
        else:
            said[name] = _allowed(name, value if equals else next(left, ""))
    return Asked(
        kept, said.get("--language") or language_of(environment), cast("Units", said.get("--units", "metric"))
    )


def language_of(environment: Mapping[str, str]) -> str:
    """The first language of the locale that there is a table of; else English."""
    locale = next((environment[name] for name in LOCALE if environment.get(name)), "")
    if locale.split(".")[0] in ("", "C", "POSIX"):
        return "en"  # which LANGUAGE does not change, as in gettext
    for wanted in (*environment.get("LANGUAGE", "").split(":"), locale):
        if (code := wanted.split("_")[0].split(".")[0].lower()) in LANGUAGES:
            return code
    return "en"


def _allowed(name: str, value: str) -> str:
    if value not in ALLOWED[name]:
        *some, last = ALLOWED[name]
        allowed = note("{some} or {last}", some=", ".join(some), last=last)
        if not value:
            raise UsageError(note("{name}: nothing was given, but it must be {allowed}.", name=name, allowed=allowed))
        message = note(
            '{name}: "{value}" was given, but it must be {allowed}.', name=name, value=value, allowed=allowed
        )
        raise UsageError(message)
    return value
