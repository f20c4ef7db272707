"""``hangflat settle``: how the diver of a file hangs."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple

from cyclopts import Parameter

from sim.commands.console import UsageError, said, say
from sim.commands.looking import AS_USUAL, Looking
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import word
from sim.telling.file_line import file_line
from sim.telling.language import told

if TYPE_CHECKING:
    from concurrent.futures import Future

    from sim.answers.settle.afloat.answer import Surface
    from sim.answers.settle.afloat.surface import SurfaceReport
    from sim.answers.settle.report import SettleReport
    from sim.answers.settle.uncertain import Uncertain
    from sim.case import Case
    from sim.drawing.sheet_options import Chosen
    from sim.uncertainty.uncertain_settle import UncertainAnswer

MOST_BESIDE = 3
WORKERS = 2  # processes for --uncertain: more would cost more to start than they save


def settle(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    picture: Path | None = None,
    roll: Literal["held", "free"] = "held",
    surface: bool = False,
    uncertain: bool = False,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    looking: Looking = AS_USUAL,
    beside: Annotated[tuple[Path, ...], Parameter(name="--beside", negative=())] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say how the diver of a file hangs when they stop moving, and how hard they are turned.

    Parameters
    ----------
    file
        Scenario or parts file (TOML).
    as_json
        Print one JSON object instead of text.
    picture
        Draw the diver held flat, what turns them and where that leads to this file (PNG, SVG or PDF); with
        --surface as they float there.
    roll
        held (default): the diver keeps level from side to side; free: may roll over.
    surface
        Tell also how the diver floats at the surface, with the wing blown up and the limbs relaxed.
    uncertain
        Tell also how sure the answers are: 5 to 95 % bands, and what makes them wide.
    beside
        With --picture: another scenario in the same frame, to one scale. May be given up to three times.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set diver.mass="60 kg". May be given again.
    """
    with ExitStack() as stack:
        draft = stack.enter_context(written_whole(picture, PICTURE_ENDINGS)) if picture else None
        tracing.check(as_json)
        chosen = looking.chosen(picture is not None, afloat=surface)
        _check_beside(beside, picture, surface)
        from sim.answers.settle.answer import Picture
        from sim.answers.settle.report import report_of
        from sim.answers.settle.text import settle_text
        from sim.answers.settle.told import settle_answer
        from sim.case import Case

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=picture is not None))
        assembled = case.assembled
        if chosen.measured and assembled.worn is None:
            raise UsageError("--layers fit, reach and sight need a person with a plate on the back.")
        bands = _begun(case) if uncertain else None
        afloat = _surface(case) if surface else None
        report = report_of(assembled, roll)
        answer = settle_answer(
            report,
            None if afloat is None else afloat.told,
            None if bands is None else _uncertain(bands),
        )
        others = [Case.read(other) for other in beside]
        held = "" if as_json and not picture else _held(case)
        if not as_json:
            said(settle_text(answer, held))  # the picture is drawn even if nobody reads on
        if draft and picture:
            if afloat is None:
                how = _drawn(report, held, [report_of(o.assembled, roll) for o in others], chosen, draft)
            else:
                how = _drawn_afloat(afloat, chosen, draft)
            answer = replace(answer, picture=Picture(str(picture), how))
    if as_json:
        say_json(answer, made)
    elif answer.picture is not None:
        say(f"\n{file_line('Picture', answer.picture.file)} ({told(answer.picture.drawn)})")


def _held(case: Case) -> str:
    """What the moment asks of the diver's posture, as a sentence; nothing for a parts file, which has no limbs."""
    if case.wearer is None:
        return ""
    from sim.answers.posture.posture import posture_of
    from sim.answers.posture.told import held_sentence

    sentence = held_sentence(posture_of(case))
    return sentence[:1].upper() + sentence[1:]


class _Afloat(NamedTuple):
    """The diver at the surface, as worked out and as told."""

    report: SurfaceReport
    told: Surface


def _surface(case: Case) -> _Afloat:
    """Work out the diver at the surface, with a bar for those who look on."""
    from rich.console import Console
    from rich.progress import Progress

    from sim.answers.settle.afloat.surface import surface_report, surface_told

    shown = Console(stderr=True)
    with Progress(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("At the surface")), total=1.0)
        report = surface_report(case, lambda share: progress.update(task, completed=share))
    return _Afloat(report, surface_told(report))


def _check_beside(beside: tuple[Path, ...], picture: Path | None, surface: bool) -> None:
    """Raises UsageError where there is no frame for other divers, or no room for so many."""
    if beside and (picture is None or surface):
        raise UsageError("--beside puts another diver into the picture: give --picture FILE with it, not --surface.")
    if len(beside) > MOST_BESIDE:
        raise UsageError(f"--beside may be given up to {MOST_BESIDE} times, got {len(beside)}.")


def _drawn(report: SettleReport, held: str, others: Sequence[SettleReport], chosen: Chosen, draft: Path) -> str:
    """Draw the diver held flat and let go, others beside them; says how it was drawn."""
    from sim.answers.settle.drawn.picture import draw_story, how_drawn
    from sim.answers.settle.drawn.several import draw_several
    from sim.answers.settle.drawn.story import story_of

    story = story_of(report, held, chosen.layers)
    if not others:
        return how_drawn(draw_story(story, draft, chosen))
    return how_drawn(draw_several((story, *(story_of(o, "", chosen.layers) for o in others)), draft, chosen))


def _drawn_afloat(afloat: _Afloat, chosen: Chosen, draft: Path) -> str:
    """Draw the diver at the surface; says how it was drawn."""
    from sim.answers.settle.afloat.picture import draw_afloat

    return draw_afloat(afloat.report, afloat.told, draft, size=chosen.size, look=chosen.look)


class _Begun(NamedTuple):
    """The bands being worked out, and the share of that which is done."""

    answer: Future[UncertainAnswer]
    share: list[float]


def _begun(case: Case) -> _Begun:
    """Begin on the bands in other processes, while this one works out the answer itself."""
    from concurrent.futures import ThreadPoolExecutor

    from sim.uncertainty.uncertain_settle import uncertain_settle

    share = [0.0]

    def done(now: float) -> None:
        share[0] = now

    workers = min(WORKERS, os.cpu_count() or 1)
    waiting = ThreadPoolExecutor(1)
    answer = waiting.submit(uncertain_settle, case, workers=workers, done=done)
    waiting.shutdown(wait=False)
    return _Begun(answer, share)


def _uncertain(bands: _Begun) -> Uncertain:
    """Wait for the bands, with a bar for those who look on."""
    from concurrent.futures import wait

    from rich.console import Console
    from rich.progress import Progress

    from sim.answers.settle.uncertain import uncertain_told

    shown = Console(stderr=True)
    with Progress(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("How sure this is")), total=1.0)
        while not bands.answer.done():
            wait([bands.answer], timeout=0.1)
            progress.update(task, completed=bands.share[0])
    return uncertain_told(bands.answer.result())
