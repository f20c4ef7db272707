"""What the sheet for the water says: cautions first, who brings what, the steps of each trial in short sentences."""

from __future__ import annotations

from typing import Final

from sim.answers.check_bench.sheet_diver import SheetDiver
from sim.said import word
from sim.telling.language import say

CAUTIONS: Final = (
    word("Confined water, with standing depth beside it."),
    word("A buddy within reach, all the time, who does nothing else."),
    word("A qualified instructor who has read this sheet and agrees."),
    word("Breathe all the time. Never hold your breath."),
    word("End a try at once when anything is not as it should be."),
    word("Added lead can be dropped or handed up at once."),
)
NO_PLAN: Final = word("This sheet is no dive plan. The makers' instructions and the rules of the place come first.")
ALL_OPTIONAL: Final = word(
    "Each box may stay empty: measure what is easy and leave out what is not. Measure before you change any gear."
)
NO_NAMES: Final = word("Leave names out: the file's name and the day are enough to find this sheet's diver again.")


def brings(diver: SheetDiver) -> tuple[tuple[str, str], ...]:
    """Who brings what."""
    gear = [say("suit")] if diver.scenario is None or diver.scenario.suit is not None else []
    gear += [say("lead"), say("fins")]
    gear += [say("a gauge that can be read")] if diver.cylinders else []
    gear += [say("two straps or gaiters for the lower legs")] if diver.straps else []
    return (
        (say("Diver"), say("All gear as on a dive: {gear}.", gear=", ".join(gear))),
        (
            say("Buddy"),
            say("Spare lead in small steps (0.5 kg or 1 lb), a watch or a camera that films, pencil, this sheet."),
        ),
        (say("Instructor"), say("Watches every try and ends it when in doubt.")),
    )


def float_steps(diver: SheetDiver) -> tuple[str, ...]:
    """1, neutral float."""
    there = [say("3 to 5 m")]
    there += [say("wing EMPTY")] if diver.wing else []
    there += [say("suit gas as on a dive")] if diver.drysuit else []
    return (
        say("At {there}.", there=", ".join(there)),
        say("Hang still, as flat as is easy. Breathe quietly."),
        say("The buddy adds or takes lead until you just begin to sink."),
        say("Write down all lead you wear then."),
    )


def balance_steps(diver: SheetDiver) -> tuple[str, ...]:
    """2, balancing lead."""
    neutral = say("Get neutral. The buddy holds you flat, limbs as on a dive.")
    if diver.wing:
        neutral = say("Get neutral (wing). The buddy holds you flat, limbs as on a dive.")
    return (
        neutral,
        say("The buddy lets go: stop moving, go on breathing."),
        say("Head sinks: add lead at ankles or tail. Feet sink: add it higher up."),
        say("Get neutral and try again, until nothing turns you for 5 seconds."),
    )


FREEZE_STEPS: Final = (
    word("As worn, no lead added, neutral. The buddy holds you flat; someone films from the side."),
    word("The buddy lets go: stop moving, go on breathing."),
    word("The buddy stops the turn at 30 degrees of the trunk."),
    word("Write the seconds from letting go to 30 degrees. Up to five tries."),
)
PLACES: Final = word(
    "No lead needed: write 0. No lead that does it: write the two that turn you either way, like 1 / 2. Places: "
    "ankles, tail, belt, between cylinders, upper band, plate channel; elsewhere: how far from the hip joints."
)
WEIGHING: Final = word(
    "In water: hung under the scale, wholly under, no air trapped; write a minus before what floats. Balances at: "
    "lay it across a bar and shift it along the body's line until it lies level; measure to the bar from its foot or "
    "head end."
)
