"""``hangflat new``: a first scenario file for a person."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

from sim.commands.console import UsageError, complain, say
from sim.commands.whole_file import written_whole

SEXES = {"f": "female", "female": "female", "m": "male", "male": "male"}


def new(
    out: Path = Path("diver.toml"),
    /,
    *,
    sex: str | None = None,
    height: str | None = None,
    mass: str | None = None,
    force: bool = False,
) -> None:
    """Write a commented scenario file for a person, ready to be edited. What is not given is asked for.

    Parameters
    ----------
    out
        File to write.
    sex
        female or male.
    height
        With unit, e.g. "166 cm" or "5 ft 5 in".
    mass
        With unit, e.g. "58 kg" or "128 lb".
    force
        Overwrite the file if it is there.
    """
    if os.path.exists(out) and not force:
        raise UsageError(f"{out} is there already; give another name, or --force to overwrite it.")
    with written_whole(out, (".toml",)) as draft:
        answers = [
            _answer("sex", sex, 'Sex, "female" or "male"', _read_sex),
            _answer("height", height, 'Height, e.g. "166 cm" or "5 ft 5 in"', _read_quantity("height")),
            _answer("mass", mass, 'Mass without clothes, e.g. "58 kg" or "128 lb"', _read_quantity("mass")),
        ]
        from scenarios.new_scenario import new_scenario_text

        draft.write_text(new_scenario_text(*answers), encoding="utf-8", newline="\n")
    say(f"{out} written. Open it in an editor, then: hangflat settle {_quoted(out)}")


def _answer(name: str, given: str | None, question: str, read: Callable[[str], str]) -> str:
    """The value given or asked for, in its standard spelling; asked again until it can be read."""
    if given is not None:
        try:
            return read(given)
        except ValueError as wrong:
            raise UsageError(f"--{name}: {wrong}") from None
    if not sys.stdin.isatty():
        raise UsageError(f"--{name} is missing. {question}.")
    while True:
        try:
            return read(input(f"{question}: "))
        except ValueError as wrong:
            complain(f"  {wrong}")
        except EOFError:
            raise KeyboardInterrupt from None


def _read_sex(text: str) -> str:
    try:
        return SEXES[text.strip().lower()]
    except KeyError:
        raise ValueError(f'"{text}" is not known here; write female or male (the survey has these two)') from None


def _read_quantity(name: str) -> Callable[[str], str]:
    """A reader that lets pass what the scenario's own key would let pass."""

    def read(text: str) -> str:
        from scenarios.diver import Diver
        from scenarios.table import quantity_of

        quantity = quantity_of(Diver.model_fields[name])
        if quantity is not None:
            quantity.read(text)
        return text.strip()

    return read


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
