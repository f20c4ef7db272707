"""The console command ``hangflat``, and how every kind of failure ends.

The module of a command is imported when that command is used, and the engine inside it only when it runs, so that
``hangflat --help`` answers at once; and this one imports next to nothing, since worker processes import it again.
"""

from __future__ import annotations

import atexit
import gc
import os
import sys
import traceback
import warnings
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from sim.commands.console import UsageError, close_broken_stdout, complain, speak_utf8
from sim.commands.ended import EndedError, heard
from sim.commands.put_off import put_off
from sim.commands.streams import unwritable

if TYPE_CHECKING:
    from cyclopts import CycloptsError

OUR_FAULT: Final = 1
BAD_INPUT: Final = 2
INTERRUPTED: Final = 130  # 128 + SIGINT, as shells report it; after other signals as well 128 + their number
BROKEN_PIPE: Final = 141  # 128 + SIGPIPE
TRACEBACK: Final = "HANGFLAT_TRACEBACK"
# Matrices are small here: threads of the linear algebra, which reads this when it is first imported, only wait for
# one another, and take a fifth to a third more of the processor
ONE_THREAD: Final = ("OPENBLAS_NUM_THREADS", "1")
# Nor looks pydantic through all that is installed for what would change our checks
NO_PLUGINS: Final = ("PYDANTIC_DISABLE_PLUGINS", "__all__")
# Objects made before rubbish is looked for: answers leave next to none, and looking took a tenth of a command
RUBBISH: Final = 100_000


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line (default: the process's own); never a traceback unless HANGFLAT_TRACEBACK is set.

    Exit code: 0 answered, 2 input that cannot be used, 1 a fault of ours, 130 interrupted, 141 reader gone, 143 told
    to end.
    """
    atexit.register(gc.freeze)  # all goes with the process: looking for rubbish once more costs a tenth of a command
    try:
        with heard():
            return _run(sys.argv[1:] if words is None else list(words))
    except BrokenPipeError:
        close_broken_stdout()
        return BROKEN_PIPE
    except EndedError as ended:
        return 128 + ended.signal
    except KeyboardInterrupt:
        return INTERRUPTED


def _run(words: list[str]) -> int:
    os.environ.setdefault(*ONE_THREAD)
    os.environ.setdefault(*NO_PLUGINS)
    gc.set_threshold(RUBBISH)
    put_off()
    speak_utf8()
    if not (os.environ.get(TRACEBACK) or sys.warnoptions):
        warnings.simplefilter("ignore")  # doubts meant for the user are notes in the answer
    from sim.commands.reader import asked, language_of
    from sim.telling.language import spoken

    try:
        words, language, units = asked(words, os.environ)
    except UsageError as wrong:
        with spoken(language_of(os.environ)):
            return _failed(wrong)
    with spoken(language, units):
        return _answered(words)


def _answered(words: list[str]) -> int:
    from cyclopts import CycloptsError

    from sim.commands.command_line import app

    try:
        app(words, print_error=False, exit_on_error=False, result_action="return_none")
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except CycloptsError as wrong:
        return _refused(wrong)
    except Exception as wrong:
        return _failed(wrong)
    return 0


def _refused(wrong: CycloptsError) -> int:
    """A command line that does not parse."""
    from sim.said import note
    from sim.telling.known_sentences import in_words
    from sim.telling.language import told

    wrong.verbose = False
    command = " ".join(["hangflat", *(wrong.command_chain or ())])
    complain(f"{in_words(str(wrong).strip())} {told(note('See: {command} --help', command=command))}")
    return BAD_INPUT


def _failed(wrong: Exception) -> int:
    """A command that ran and failed, by the user's input or by our fault."""
    from scenarios.errors import ScenarioError
    from sim.commands.error_words import told_error
    from sim.said import note
    from sim.telling.known_sentences import in_words
    from sim.telling.language import told
    from sim.worker_pool import WorkersLostError

    if os.environ.get(TRACEBACK):
        traceback.print_exception(wrong)
    if isinstance(wrong, UsageError | ScenarioError | WorkersLostError):
        complain(told_error(wrong))
        return BAD_INPUT
    from sim.drawing.own_style import MissingFontError

    if isinstance(wrong, MissingFontError):
        complain(str(wrong))
        return BAD_INPUT
    if (reason := unwritable(wrong)) is not None:
        close_broken_stdout()  # whose last words may be what could not be written
        complain(in_words(f"The answer cannot be written: {reason}. Make room, or send it elsewhere."))
        return BAD_INPUT
    first = (str(wrong).splitlines() or [""])[0]
    fault = note(
        "hangflat failed, and the fault is in hangflat, not in what you gave it: {kind}: {first} (to see where, set "
        "{name}=1 and run it again)",
        kind=type(wrong).__name__,
        first=first,
        name=TRACEBACK,
    )
    complain(told(fault))
    return OUR_FAULT


if __name__ == "__main__":
    sys.exit(main())
