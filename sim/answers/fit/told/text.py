"""What an instructor reads of ``hangflat fit``: plain text, 100 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from math import isfinite
from typing import Final

from sim.answers.fit.limits import EASY_REACH
from sim.answers.fit.report import FitReport, PlateFit
from sim.answers.fit.straps import Straps
from sim.answers.fit.told.ashore import ashore_rows
from sim.answers.fit.told.people import people_rows
from sim.answers.fit.told.sweep import sweep_rows
from sim.answers.fit.verdict import Verdict
from sim.said import word
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.drawn_plate import drawn_plate_lines, notes_not_told
from sim.telling.language import quantity, say, told
from sim.telling.words import WIDTH, bullets, rows, wrapped

ASHORE: Final = word("Carried ashore, standing still with all of it on (of two figures, the least and the greatest)")
MARKS: Final = {True: word("passes"), False: word("FAILS"), None: "-"}
SUBJECT: Final = 18  # columns for what was looked at, and
LEAST: Final = 16  # the fewest for a plate beside others


def fit_text(report: FitReport) -> str:
    """Of everything; the caution comes last. Several plates are laid side by side."""
    plates = report.plates
    lines = ["", *(line for plate in plates for line in _drawn_lines(plate, plates))][:-1]
    lines += diver_lines(report.title)
    lines += _one(plates[0]) if len(plates) == 1 else _side_by_side(plates)
    if report.sweep is not None:
        lines += rows(say("Trade-off over {name}", name=told(report.sweep.asked.kind.name)), sweep_rows(report.sweep))
    if report.people is not None:
        lines += rows(say("For whom it passes"), people_rows(report.people))
    return "\n".join([*lines[1:], *ending_lines((), report.estimated, report.caution)])


def _one(plate: PlateFit) -> list[str]:
    return [
        *rows(say("With {plate}", plate=told(plate.name)), _verdict_rows(plate.verdicts)),
        *rows(say("How to wear it"), _set_up_rows([plate])),
        *rows(say("Webbing, along its middle, over the suit"), _strap_rows(plate.answer.straps)),
        *rows(told(ASHORE), ashore_rows(plate.answer.ashore)),
        *bullets(say("Notes"), map(told, notes_not_told(plate.notes, plate.drawn_plate))),
    ]


def _drawn_lines(plate: PlateFit, plates: Sequence[PlateFit]) -> list[str]:
    return drawn_plate_lines(plate.drawn_plate, say("Plate") if len(plates) == 1 else told(plate.name))


def _side_by_side(plates: Sequence[PlateFit]) -> list[str]:
    """A table of findings by plates, then in words what does not fit with each."""
    lines: list[str] = []
    at_once = max(1, min(len(plates), (WIDTH - SUBJECT) // LEAST))
    for first in range(0, len(plates), at_once):
        lines += ["", *_table(plates[first : first + at_once])]
    lines += [
        "",
        *wrapped(
            say(
                "Centimetres: what is left, or with a minus what is missing, of a valve beyond the "
                "{least} that turning it takes. -: neither passes nor fails.",
                least=quantity(100.0 * EASY_REACH, "cm", 0),
            )
        ),
    ]
    lines += rows(say("How to wear them"), _set_up_rows(plates))
    for plate in plates:
        failed = [v for v in plate.verdicts if v.passes is False]
        lines += rows(say("What fails with {plate}", plate=told(plate.name)), _verdict_rows(failed))
        if not failed:
            lines += ["", say("With {plate} nothing fails.", plate=told(plate.name))]
    lines += ["", *wrapped(say("For all findings in words, webbing and the carry ashore, ask for one plate alone."))]
    shared = [note for note in plates[0].notes if all(note in plate.notes for plate in plates)]
    lines += bullets(say("Notes"), map(told, shared))
    for plate in plates:
        own = [n for n in notes_not_told(plate.notes, plate.drawn_plate) if n not in shared]
        lines += bullets(say("Notes on {plate}", plate=told(plate.name)), map(told, own))
    return lines


def _table(plates: Sequence[PlateFit]) -> list[str]:
    width = (WIDTH - SUBJECT) // len(plates)
    subjects = list(dict.fromkeys(v.subject for plate in plates for v in plate.verdicts))
    names = [textwrap.wrap(told(plate.name), width - 2) for plate in plates]
    lines = [
        " " * SUBJECT + "".join(f"{(name[k] if k < len(name) else ''):<{width}}" for name in names).rstrip()
        for k in range(max(map(len, names)))
    ]
    lines.append("-" * (SUBJECT + width * len(plates)))
    found = [{v.subject: v for v in plate.verdicts} for plate in plates]
    for subject in subjects:
        cells = "".join(f"{_cell(verdicts.get(subject)):<{width}}" for verdicts in found)
        lines.append(f"{told(subject)[: SUBJECT - 1]:<{SUBJECT}}{cells}".rstrip())
    return lines


def _cell(verdict: Verdict | None) -> str:
    """A finding in a few letters; one that was not made of this plate has nothing amiss."""
    if verdict is None:
        return told(MARKS[True])
    mark, margin = told(MARKS[verdict.passes]), verdict.margin
    if margin is None or not isfinite(margin):
        return mark
    return f"{mark:<6} {quantity(100.0 * margin, 'cm', 1, sign=True):>8}"


def _verdict_rows(verdicts: Sequence[Verdict]) -> Iterator[tuple[str, str]]:
    for verdict in verdicts:
        mark = "" if verdict.passes is None else f"{told(MARKS[verdict.passes])}: "
        yield told(verdict.subject), f"{mark}{told(verdict.sentence)}."


def _set_up_rows(plates: Sequence[PlateFit]) -> Iterator[tuple[str, str]]:
    """What to change, by plate; its own name where there are several."""
    for plate in plates:
        if plate.set_up is not None:
            yield say("set-up") if len(plates) == 1 else told(plate.name), f"{told(plate.set_up.told)}."


def _strap_rows(straps: Straps) -> Iterator[tuple[str, str]]:
    drop = straps.drop
    off = _cm(abs(drop))
    if abs(drop) < 5e-4:
        hung = say("with the waist slots at the natural waist, midway between lowest rib and hip bone")
    elif drop > 0:
        hung = say(
            "with the waist slots {off} below the natural waist, midway between lowest rib and hip bone", off=off
        )
    else:
        hung = say(
            "with the waist slots {off} above the natural waist, midway between lowest rib and hip bone", off=off
        )
    yield say("hung"), hung
    yield (
        say("shoulder straps"),
        say(
            "{length} each, from its slot over the shoulder, under the arm to the waist slot",
            length=_cm(straps.shoulder),
        ),
    )
    yield say("waist strap"), say("{length} from slot to slot round the front", length=_cm(straps.waist))
    yield say("crotch strap"), say("{length} from its slot to the buckle", length=_cm(straps.crotch))
    yield (
        say("to cut"),
        say(
            "{whole} for shoulders and waist in one piece, {crotch} for "
            "the crotch strap, with turns, tails and loops; cut longer and trim when it sits",
            whole=quantity(straps.one_piece, "m", 2),
            crotch=quantity(straps.crotch_cut, "m", 2),
        ),
    )


def _cm(length: float) -> str:
    return quantity(100.0 * length, "cm", 1)
