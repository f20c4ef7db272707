"""``hangflat new``: a first scenario file for a person."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from sim.commands.console import UsageError, complain, say
from sim.commands.whole_file import written_whole

SEXES = {"f": "female", "female": "female", "m": "male", "male": "male"}
QUESTIONS = {
    "sex": 'Sex, "female" or "male"',
    "height": 'Height, e.g. "166 cm" or "5 ft 5 in"',
    "mass": 'Mass without clothes, e.g. "58 kg" or "128 lb"',
}
BODY_FAT = 'Body fat, e.g. "24 %"; most have 10 to 35 % (Enter if you do not know it)'
TRAINED = "Do you train for a sport on most days of the week, yes or no (Enter: no)"
YES_OR_NO = {"yes": True, "y": True, "no": False, "n": False, "": False}


def new(
    out: Path = Path("diver.toml"),
    /,
    *,
    sex: str | None = None,
    height: str | None = None,
    mass: str | None = None,
    body_fat: str | None = None,
    trained: bool = False,
    force: bool = False,
) -> None:
    """Write a commented scenario file for a person, ready to be edited. What is not given is asked for.

    Parameters
    ----------
    out
        File to write (default diver.toml).
    sex
        female or male.
    height
        With unit, e.g. "166 cm" or "5 ft 5 in".
    mass
        With unit, e.g. "58 kg" or "128 lb".
    body_fat
        If known, e.g. "24 %" or "24 +- 3 %"; most divers have 10 to 35 %.
    trained
        Trains for a sport on most days of the week: leaner, so denser, than others of like size.
    force
        Overwrite the file if it is there.
    """
    if os.path.exists(out) and not force:
        raise UsageError(f"{out} is there already; give another name, or --force to overwrite it.")
    with written_whole(out, (".toml",)) as draft:
        given = {"sex": sex, "height": height, "mass": mass}
        known = {name: _given(name, text) for name, text in given.items() if text is not None}
        fat = "" if body_fat is None else _given("body_fat", body_fat)
        answers = [known[name] if name in known else _asked(name) for name in QUESTIONS]
        if not known and not fat and not trained:  # a person sits there and answers
            fat = _asked_if_known("body_fat", BODY_FAT)
            trained = not fat and _asked_yes_or_no(TRAINED)
        from scenarios.new_scenario import new_scenario_text

        draft.write_text(new_scenario_text(*answers, body_fat=fat, trained=trained), encoding="utf-8", newline="\n")
    say(f"{out} written. Open it in an editor, then: hangflat settle {_quoted(out)}")


def _given(name: str, text: str) -> str:
    """A value from the command line, if it can be read."""
    try:
        return _read(name, text)
    except ValueError as wrong:
        raise UsageError(f"--{name.replace('_', '-')}: {wrong}") from None


def _asked(name: str) -> str:
    """A value typed by the user, who is asked again until it can be read."""
    if not sys.stdin.isatty():
        raise UsageError(f"--{name} is missing. {QUESTIONS[name]}.")
    while True:
        try:
            return _read(name, input(f"{QUESTIONS[name]}: "))
        except ValueError as wrong:
            complain(f"  {wrong}")
        except EOFError:
            raise KeyboardInterrupt from None


def _asked_if_known(name: str, question: str) -> str:
    """A value typed by the user, or nothing for a bare Enter and at the end of the input."""
    while True:
        try:
            text = input(f"{question}: ").strip()
            return _read(name, text) if text else ""
        except ValueError as wrong:
            complain(f"  {wrong}")
        except EOFError:
            return ""


def _asked_yes_or_no(question: str) -> bool:
    """No for a bare Enter and at the end of the input."""
    while True:
        try:
            return YES_OR_NO[input(f"{question}: ").strip().lower()]
        except KeyError:
            complain("  write yes or no")
        except EOFError:
            return False


def _read(name: str, text: str) -> str:
    """The text as it shall stand in the file. Raises ValueError that says what to write."""
    return _read_sex(text) if name == "sex" else _read_quantity(name, text)


def _read_sex(text: str) -> str:
    try:
        return SEXES[text.strip().lower()]
    except KeyError:
        raise ValueError(f'"{text}" is not known here; write female or male (the survey has these two)') from None


def _read_quantity(name: str, text: str) -> str:
    """Lets pass what the scenario's own key lets pass."""
    from scenarios.diver import Diver
    from scenarios.table import quantity_of

    quantity = quantity_of(Diver.model_fields[name])
    if quantity is not None:
        quantity.read(text)
    return text.strip()


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
