"""The console command ``hangflat``: which commands there are, and how every kind of failure ends.

The module of a command is imported when that command is used, and the engine inside it only when it runs, so that
``hangflat --help`` answers at once.
"""

from __future__ import annotations

import os
import sys
import traceback
import warnings
from collections.abc import Sequence
from importlib import metadata
from typing import Final

from cyclopts import App, CycloptsError, Parameter

from sim.commands.console import UsageError, close_broken_stdout, complain, speak_utf8
from sim.commands.help_pages import HelpPages

OUR_FAULT: Final = 1
BAD_INPUT: Final = 2
INTERRUPTED: Final = 130  # 128 + SIGINT, as shells report it
BROKEN_PIPE: Final = 141  # 128 + SIGPIPE
TRACEBACK: Final = "HANGFLAT_TRACEBACK"
# Matrices are small here: threads of the linear algebra, which reads this when it is first imported, only wait for
# one another, and take a fifth to a third more of the processor
ONE_THREAD: Final = ("OPENBLAS_NUM_THREADS", "1")

COMMANDS: Final = {
    "new": "Write a scenario file for a person, ready to be edited.",
    "settle": "Say how the diver of a file hangs and how hard they are turned; draw it.",
    "why": "Say which item turns the diver, and how much.",
    "change": "Say what to change so that the diver hangs flat.",
    "empty": "Say how the diver hangs as the cylinders empty.",
    "fit": "Say whether the gear fits: where the rig sits, what hands and eyes reach.",
    "study": "Vary a scenario in many ways at once, and say what moves the answers.",
    "catalogue": "List the generic gear, the keys of a scenario, the measures of a body.",
    "check-bench": "Hold your own measurements, from scale, bar and pool, against the model.",
    "calibrate": "Say what a diver's own measurements teach of this diver, for the other commands.",
    "evidence": "Hold the numbers that matter against published ones, now.",
    "demo": "List the demo scenarios, or write them to a folder.",
}

app = App(
    name="hangflat",
    help="How a diver hangs in the water: which way they turn, how hard, where they come to rest, and why.",
    help_epilogue="Start with:  hangflat new diver.toml\nthen:        hangflat settle diver.toml --picture diver.png",
    version=lambda: metadata.version("hangflat"),
    help_format="plaintext",
    help_formatter=HelpPages(),
    suppress_keyboard_interrupt=False,
    default_parameter=Parameter(negative=(), show_default=False),
)
for _order, (_name, _words) in enumerate(COMMANDS.items()):
    app.command("sim.commands.{0}:{0}".format(_name.replace("-", "_")), name=_name, help=_words, sort_key=_order)


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line (default: the process's own); never a traceback unless HANGFLAT_TRACEBACK is set.

    Exit code: 0 answered, 2 input that cannot be used, 1 a fault of ours, 130 interrupted, 141 reader gone.
    """
    os.environ.setdefault(*ONE_THREAD)
    speak_utf8()
    if not (os.environ.get(TRACEBACK) or sys.warnoptions):
        warnings.simplefilter("ignore")  # doubts meant for the user are notes in the answer
    try:
        app(
            sys.argv[1:] if words is None else list(words),
            print_error=False,
            exit_on_error=False,
            result_action="return_none",
        )
        sys.stdout.flush()
    except BrokenPipeError:
        close_broken_stdout()
        return BROKEN_PIPE
    except KeyboardInterrupt:
        return INTERRUPTED
    except CycloptsError as wrong:
        return _refused(wrong)
    except Exception as wrong:
        return _failed(wrong)
    return 0


def _refused(wrong: CycloptsError) -> int:
    """A command line that does not parse."""
    wrong.verbose = False
    command = " ".join(["hangflat", *(wrong.command_chain or ())])
    complain(f"{str(wrong).strip()} See: {command} --help")
    return BAD_INPUT


def _failed(wrong: Exception) -> int:
    """A command that ran and failed, by the user's input or by our fault."""
    from scenarios.errors import ScenarioError

    if os.environ.get(TRACEBACK):
        traceback.print_exception(wrong)
    if isinstance(wrong, UsageError | ScenarioError):
        complain(str(wrong))
        return BAD_INPUT
    first = (str(wrong).splitlines() or [""])[0]
    complain(
        f"hangflat failed, and the fault is in hangflat, not in what you gave it: {type(wrong).__name__}: {first} "
        f"(to see where, set {TRACEBACK}=1 and run it again)"
    )
    return OUR_FAULT


if __name__ == "__main__":
    sys.exit(main())
