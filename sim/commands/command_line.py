"""Which commands there are, each with one line on what it does."""

from __future__ import annotations

from typing import Final

from cyclopts import App, Parameter

from sim.commands.help_pages import HelpPages

COMMANDS: Final = {
    "new": "Write a scenario file for a person, ready to be edited.",
    "open": "Set a diver up by hand in the browser, and see every answer at once.",
    "settle": "Say how the diver of a file hangs and how hard they are turned; draw it.",
    "why": "Say which item turns the diver, and how much.",
    "posture": "Say what a relaxed diver's posture holds, and what has to be held.",
    "seen": "Say which cause is behind how a diver is seen to hang, and which test tells.",
    "change": "Say what to change so that the diver hangs flat.",
    "compare": "Set two or more divers side by side: what differs, and what that does.",
    "weigh": "Say how much lead makes the diver neutral, and what that leaves to wing and fins.",
    "later": "Say how the diver hangs later in the dive, as depth and gas change.",
    "empty": "Say how the diver hangs as the cylinders empty, at one depth.",
    "fit": "Say whether the gear fits: where the rig sits, what hands and eyes reach.",
    "plate": "Say what a plate weighs, where all on it is, and whether it can be made as drawn.",
    "film": "Film the diver let go, as the cylinders empty, along a choice, or corrected.",
    "model": "Write the diver as a model to turn, for a browser or for slides.",
    "sheet": "Write a hand-out to print: of one diver, of two compared, or of a class.",
    "study": "Vary a scenario in many ways at once, and say what moves the answers.",
    "catalogue": "List the generic gear, the keys of a scenario, the measures of a body.",
    "check-bench": "Hold your own measurements, from scale, bar and pool, against the model.",
    "calibrate": "Say what a diver's own measurements teach of this diver, for the other commands.",
    "evidence": "Hold the numbers that matter against published ones, now.",
    "demo": "List the demo scenarios, or write them to a folder.",
}


def _version() -> str:
    from importlib import metadata

    return metadata.version("hangflat")


app = App(
    name="hangflat",
    help="How a diver hangs in the water: which way they turn, how hard, where they come to rest, and why.",
    help_epilogue="Start with:  hangflat new diver.toml\nthen:        hangflat settle diver.toml --picture diver.png",
    version=_version,
    help_format="plaintext",
    help_formatter=HelpPages(),
    suppress_keyboard_interrupt=False,
    default_parameter=Parameter(negative=(), show_default=False),
)
for _order, (_name, _words) in enumerate(COMMANDS.items()):
    app.command("sim.commands.{0}:{0}".format(_name.replace("-", "_")), name=_name, help=_words, sort_key=_order)
