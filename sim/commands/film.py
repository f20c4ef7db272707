"""``hangflat film``: the diver moving, to show to a class."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import written_whole
from sim.said import word
from sim.telling.language import told

if TYPE_CHECKING:
    from sim.answers.film.footage import Footage
    from sim.case import Case

ENDINGS: Final = (".mp4", ".gif", ".png", ".srt", ".vtt")
SPEEDS: Final = (0.05, 20.0)  # the diver's seconds in one of the film's
LENGTHS: Final = (3.0, 120.0)  # s of film
WIDTHS: Final = (640, 1920)  # pixels
HEIGHTS: Final = (360, 1920)
MOST: Final = 1920 * 1080  # in all: 0.83 GiB are taken at that, 2.5 at four times as many
WORKED_OUT: Final = 0.2  # share of the time until all is known that is to be drawn
Progress = Callable[[float], None]


def film(
    file: Path,
    to: Annotated[tuple[Path, ...], Parameter(name="TO", required=True)],
    /,
    *,
    show: Literal["let-go", "emptying", "sweep", "correction"] | None = None,
    sweep: str | None = None,
    roll: Literal["held", "free"] = "held",
    speed: float = 1.0,
    seconds: float | None = None,
    size: str = "1280x720",
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Film the diver of a file, with what turns them and where the gas is beside it.

    Parameters
    ----------
    file
        Scenario or parts file (TOML).
    to
        What to write: names that end in .mp4, .gif (half as large), .png (one picture of the film), .srt or .vtt (its
        captions as subtitles, which then do not stand in the picture). Several may be given, one of each.
    show
        let-go (default): held flat, then let go; emptying: as the cylinders empty; sweep: as one choice changes (see
        --sweep); correction: before, the change that hangflat advises, and after.
    sweep
        The choice that changes: a length that fit --sweep knows, as "drop", or any key, as "cylinders.pressure;
        from=200 bar; to=50 bar; steps=25".
    roll
        For let-go, held (default): the diver keeps level from side to side; free: may roll over.
    speed
        For let-go and correction: 1 (default) is real time, 0.5 is slowed to half.
    seconds
        How long the film lasts, 3 to 120; by default until the diver is nearly at rest, or 10 s.
    size
        WIDTHxHEIGHT in pixels, both even (default 1280x720); 1920x1080 at the most.
    as_json
        Print one JSON object instead of text.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set suit.gas="12 l". May be given again.
    """
    shown = show or ("sweep" if sweep is not None else "let-go")
    pixels = _checked(to, shown, sweep, roll, speed, seconds, size)
    with ExitStack() as stack:
        drafts = {path.suffix.lower(): stack.enter_context(written_whole(path, ENDINGS)) for path in to}
        tracing.check(as_json)
        from sim.answers.film.encoder import NoEncoderError, encoder
        from sim.case import Case

        if ".mp4" in drafts:
            try:
                encoder()
            except NoEncoderError as why:
                raise UsageError(str(why)) from None
        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=True))
        progress = stack.enter_context(_bar())
        try:
            footage = _footage(case, shown, sweep or "", roll, speed, seconds, progress)
        except ValueError as why:
            if isinstance(why, UnicodeError) or not str(why).startswith("--sweep"):
                raise
            raise UsageError(str(why)) from None
        _written(footage, drafts, pixels, progress)
    _told(footage, pixels, to, as_json, made)


def _checked(
    to: tuple[Path, ...], show: str, sweep: str | None, roll: str, speed: float, seconds: float | None, size: str
) -> tuple[int, int]:
    """The size in pixels. Raises UsageError for what cannot go together or lies out of bounds."""
    if len({path.suffix.lower() for path in to}) < len(to):
        raise UsageError("film writes one file of each kind; give each ending once.")
    if (show == "sweep") != (sweep is not None):
        raise UsageError('--show sweep and --sweep go together, as in: --sweep "drop".')
    if roll != "held" and show != "let-go":
        raise UsageError("--roll free is of --show let-go: the other films keep the diver from rolling.")
    if speed != 1.0 and show not in ("let-go", "correction"):
        raise UsageError(f"--speed is of let-go and correction; give the length of {show} by --seconds.")
    if not SPEEDS[0] <= speed <= SPEEDS[1]:
        raise UsageError(f"--speed is {SPEEDS[0]:g} to {SPEEDS[1]:g} times real time; got {speed:g}.")
    if seconds is not None and not LENGTHS[0] <= seconds <= LENGTHS[1]:
        raise UsageError(f"--seconds is {LENGTHS[0]:g} to {LENGTHS[1]:g}; got {seconds:g}.")
    found = re.fullmatch(r"([0-9]{1,4}) ?[x×] ?([0-9]{1,4})", size.strip())
    width, height = (int(found[1]), int(found[2])) if found else (0, 0)
    if not (_fits(width, WIDTHS) and _fits(height, HEIGHTS) and width * height <= MOST):
        raise UsageError(
            f"--size takes WIDTHxHEIGHT, even numbers, {WIDTHS[0]} to {WIDTHS[1]} across and {HEIGHTS[0]} to "
            f"{HEIGHTS[1]} down, no more pixels than 1920x1080 has; got {size[:40]!r}."
        )
    return width, height


def _fits(pixels: int, bounds: tuple[int, int]) -> bool:
    return bounds[0] <= pixels <= bounds[1] and pixels % 2 == 0


def _footage(
    case: Case, show: Any, sweep: str, roll: Any, speed: float, seconds: float | None, progress: Progress
) -> Footage:
    from sim.answers.film.films import footage_of

    def track(work: Any) -> Iterator[Any]:
        for number, one in enumerate(work, start=1):
            yield one
            progress(WORKED_OUT * number / len(work))

    return footage_of(case, show, sweep=sweep, roll=roll, speed=speed, seconds=seconds, track=track)


def _written(footage: Footage, drafts: dict[str, Path], size: tuple[int, int], progress: Progress) -> None:
    from sim.answers.film.written import write_film
    from sim.drawing.film_renderer import NoRendererError

    try:
        write_film(footage, drafts, size, lambda share: progress(WORKED_OUT + (1.0 - WORKED_OUT) * share))
    except NoRendererError as why:
        raise UsageError(
            f"A film cannot be drawn here: {why}. On Linux install libEGL or libOSMesa; "
            "hangflat settle --picture draws without them."
        ) from None


def _told(footage: Footage, size: tuple[int, int], to: tuple[Path, ...], as_json: bool, made: Any) -> None:
    from sim.answers.film.answer import film_answer
    from sim.telling.caution import told_caution
    from sim.telling.file_line import file_line
    from sim.telling.language import say as spoken
    from sim.telling.words import wrapped

    if as_json:
        say_json(film_answer(footage, size, [str(path) for path in to]), made)
        return
    said = [f"{footage.title}. {footage.under}" + (f" ({footage.pace})." if footage.pace else "."), ""]
    said += [f"{c.start:6.1f} s  {c.text}" for c in footage.captions]
    said += ["", *(file_line("Film", path) for path in to), ""]
    said += wrapped(spoken("Caution: {caution}", caution=told_caution()), later="  ")
    say("\n".join(said))


@contextmanager
def _bar() -> Iterator[Progress]:
    """A bar on a terminal's stderr that is told the share done."""
    from rich.console import Console
    from rich.progress import Progress as Bar

    shown = Console(stderr=True)
    with Bar(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("Filming")), total=1.0)
        yield lambda share: progress.update(task, completed=share)
