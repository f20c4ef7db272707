"""Which commands there are, each with one line on what it does."""

from __future__ import annotations

from typing import Final

from cyclopts import App, Parameter

from sim.commands.help_pages import HelpPages
from sim.said import word

COMMANDS: Final = {
    "new": word("Write a scenario file for a person, ready to be edited."),
    "open": word("Set a diver up by hand in the browser, and see every answer at once."),
    "settle": word("Say how the diver of a file hangs and how hard they are turned; draw it."),
    "why": word("Say which item turns the diver, and how much."),
    "posture": word("Say what a relaxed diver's posture holds, and what has to be held."),
    "seen": word("Say which cause is behind how a diver is seen to hang, and which test tells."),
    "change": word("Say what to change so that the diver hangs flat."),
    "compare": word("Set two or more divers side by side: what differs, and what that does."),
    "weigh": word("Say how much lead makes the diver neutral, and what that leaves to wing and fins."),
    "later": word("Say how the diver hangs later in the dive, as depth and gas change."),
    "empty": word("Say how the diver hangs as the cylinders empty, at one depth."),
    "fit": word("Say whether the gear fits: where the rig sits, what hands and eyes reach."),
    "plate": word("Say what a plate weighs, where all on it is, and whether it can be made as drawn."),
    "film": word("Film the diver let go, as the cylinders empty, along a choice, or corrected."),
    "model": word("Write the diver as a model to turn, for a browser or for slides."),
    "sheet": word("Write a hand-out to print: of one diver, of two compared, or of a class."),
    "study": word("Vary a scenario in many ways at once, and say what moves the answers."),
    "catalogue": word("List the generic gear, the keys of a scenario, the measures of a body."),
    "check-bench": word("Hold your own measurements, from scale, bar and pool, against the model."),
    "calibrate": word("Say what a diver's own measurements teach of this diver, for the other commands."),
    "evidence": word("Hold the numbers that matter against published ones, now."),
    "demo": word("List the demo scenarios, or write them to a folder."),
}


def _version() -> str:
    from importlib import metadata

    return metadata.version("hangflat")


app = App(
    name="hangflat",
    help="How a diver hangs in the water: which way they turn, how hard, where they come to rest, and why.",
    version=_version,
    help_format="plaintext",
    help_formatter=HelpPages(),
    suppress_keyboard_interrupt=False,
    default_parameter=Parameter(negative=(), show_default=False),
)
for _order, (_name, _words) in enumerate(COMMANDS.items()):
    app.command("sim.commands.{0}:{0}".format(_name.replace("-", "_")), name=_name, help=_words, sort_key=_order)
