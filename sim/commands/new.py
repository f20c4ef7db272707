"""``hangflat new``: a first scenario file for a person."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from sim.commands.console import UsageError, say
from sim.commands.interview import Interview
from sim.commands.whole_file import written_whole
from sim.said import Sentence, joined, known, note, word
from sim.telling.language import told

if TYPE_CHECKING:
    from scenarios.new_scenario import NewScenario


def new(
    out: Path = Path("diver.toml"),
    /,
    *,
    sex: str | None = None,
    height: str | None = None,
    mass: str | None = None,
    body_fat: str | None = None,
    trained: bool = False,
    suit: str | None = None,
    undergarment: str | None = None,
    count: str | None = None,
    cylinders: str | None = None,
    plate: str | None = None,
    lead: str | None = None,
    force: bool = False,
) -> None:
    """Write a commented scenario file for a person, ready to be edited. Asks for person and gear.

    Every question shows what a bare Enter means. Answers may come from a pipe, one a line; where they end, all else
    is as usual. With sex, height or mass given as options, only those of the three that are missing are asked for.

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
    suit
        A suit of the catalogue, e.g. "trilaminate" or "wetsuit 5 mm", or none.
    undergarment
        Under a drysuit: thin, medium or heavy.
    count
        How many cylinders on the back: one or two.
    cylinders
        Cylinders of the catalogue, e.g. "steel 12 l 232 bar".
    plate
        A plate of the catalogue, e.g. "small steel"; if left out, by the length of the back, and of aluminium
        where steel would leave no lead to wear.
    lead
        On the belt, e.g. "4 kg", or none; if left out, what makes the diver neutral at 4 m with 50 bar and an empty
        wing, by this model.
    force
        Overwrite the file if it is there.
    """
    if os.path.exists(out) and not force:
        raise UsageError(
            note("{file} is there already; give another name, or --force to overwrite it.", file=str(out))
        )
    given = {
        "sex": sex, "height": height, "mass": mass, "body_fat": body_fat, "suit": suit, "undergarment": undergarment,
        "count": count, "cylinders": cylinders, "plate": plate, "lead": lead,
    }  # fmt: skip
    with written_whole(out, (".toml",)) as draft:
        from scenarios.new_scenario import new_scenario_text
        from sim.commands.new_questions import Questions, answers_to
        from sim.telling.file_comments import told_file

        interview = Interview(piped=sys.stdin is None or not sys.stdin.isatty())
        answers = answers_to(Questions(_stated(given), trained, interview))
        draft.write_text(told_file(new_scenario_text(answers)), encoding="utf-8", newline="\n")
    written = note(
        "{file} written: {what}. Open it in an editor, then: hangflat settle {typed}",
        file=str(out),
        what=_told(answers),
        typed=_quoted(out),
    )
    say(told(written))


NO_SUIT, NO_LEAD = word("no suit"), word("no lead")
INVENTED = word("sex"), word("height"), word("mass")


def _stated(given: dict[str, str | None]) -> dict[str, str]:
    return {name: text for name, text in given.items() if text is not None}


def _told(new: NewScenario) -> Sentence:
    """What the file says, in a line."""
    from scenarios.new_scenario import NONE, is_dry

    person = joined([known(new.sex), new.height, new.mass])
    if new.invented:
        person = note(
            "{person} ({what} invented)",
            person=person,
            what=joined([known(w) for w in INVENTED if w in new.invented]),
        )
    suit: str = known(NO_SUIT) if new.suit == NONE else new.suit
    if is_dry(new.suit):
        suit = note("{suit} over {undergarment}", suit=new.suit, undergarment=new.undergarment)
    cylinders = " ".join(["twin", new.cylinders]) if new.count == "two" else new.cylinders  # as the catalogue has it
    plate = note("plate {plate}", plate=new.plate)
    lead = note("{lead} of lead", lead=new.lead) if new.lead else known(NO_LEAD)
    return joined([person, suit, cylinders, plate, lead], "; ")


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
