"""The evidence as plain text, as a page of tables, and as the README's few sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.evidence.answer import PRACTICE, EvidenceTold, ToldCheck
from sim.answers.evidence.protocol import MEASURE_IT, NEXT, NOT_YET_BELIEVED
from sim.telling.words import bullets, wrapped

ABOUT_PRACTICE: Final = (
    "What divers do every day is common practice without a source, in part from memory: strong as a question, weak "
    "as a proof. No number was chosen by it, and what fails is shown failing."
)


def evidence_text(told: EvidenceTold) -> str:
    """Plain text, at most 100 columns wide."""
    lines = wrapped(_summary(told))
    theme = ""
    for row in told.checks:
        if row.theme != theme:
            theme = row.theme
            lines += ["", f"{theme:<50}{'ours':>12}{'theirs':>12}  allowed", "-" * 100]
            lines += wrapped(f"{ABOUT_PRACTICE} {_of_practice(told)}") if theme == PRACTICE else []
        lines.append(f"{_mark(row):<5}{row.check:<45}{_ours(row):>12}{_theirs(row):>12}  {_allowed(row)}")
        about = "; ".join(p for p in (f"{row.kind}: {row.source}", _worst(row), row.doubt) if p)
        lines += wrapped(about, "       ")
    lines += bullets("What is not validated", told.not_validated)
    lines += bullets("How to check your own, on the bench and in the pool", told.protocol)
    return "\n".join([*lines, "", *wrapped(NEXT)])


def evidence_page(told: EvidenceTold) -> str:
    """A Markdown page with every row, ending in a line end."""
    lines = ["# The numbers held against others", "", _coded(_summary(told)), ""]
    lines += ["| check | source | kind | ours | theirs | allowed | pass |", "|---|---|---|--:|--:|--:|---|"]
    lines += _table_lines([r for r in told.checks if r.theme != PRACTICE])
    lines += _practice_section([r for r in told.checks if r.theme == PRACTICE], told)
    lines += ["", "## What is not validated", "", *[f"- {text}" for text in told.not_validated], ""]
    lines += ["## Check your own, on the bench and in the pool", ""]
    lines += [f"{i}. {text}" for i, text in enumerate(told.protocol, 1)]
    return "\n".join([*lines, "", _coded(NEXT)]) + "\n"


def evidence_sentences(told: EvidenceTold, page: str) -> str:
    """The README's section in Markdown: how much agrees, what is not validated; ``page`` is where all of it is."""
    rows = sum(r.theme != PRACTICE for r in told.checks)
    fails = f"; the {failing} that fail are shown failing" if (failing := len(told.sourced.failing)) else ""
    text = (
        f"{told.sourced.passing} of {rows} numbers agree with one from outside the project{fails}: "
        f"[all of them]({page}). "
        "No measured attitude, and no measured trimming moment, of an equipped drysuit diver is known in the open "
        f"literature: the whole is held only against what divers do every day, and there {_of_practice(told)} "
        f"{NOT_YET_BELIEVED} {MEASURE_IT}"
    )
    return "\n".join(wrapped(text)) + "\n"


def _practice_section(asked: Sequence[ToldCheck], told: EvidenceTold) -> list[str]:
    if not asked:
        return []
    heading = ["", f"## {PRACTICE}", "", f"{ABOUT_PRACTICE} {_of_practice(told)}", ""]
    heading += [
        "| what divers do | source | kind | ours | theirs | allowed | pass |",
        "|---|---|---|--:|--:|--:|---|",
    ]
    return [*heading, *list(_table_lines(asked))[1:]]


def _table_lines(rows: Sequence[ToldCheck]) -> Iterator[str]:
    theme = ""
    for row in rows:
        if row.theme != theme:
            theme = row.theme
            yield f"| **{theme}** | | | | | | |"
        notes = "; ".join(p for p in (_worst(row), row.doubt) if p)
        name = f"{row.check} ({notes})" if notes else row.check
        cells = (name, row.source, row.kind, _ours(row), _theirs(row), _allowed(row), _mark(row))
        yield "| " + " | ".join(c.replace("|", "\\|") for c in cells) + " |"


def _summary(told: EvidenceTold) -> str:
    rows, failing = [r for r in told.checks if r.theme != PRACTICE], told.sourced.failing
    kinds = [f"{sum(r.kind == k for r in rows)} {k}" for k in dict.fromkeys(r.kind for r in rows)]
    fails = f"; {len(failing)} do not, and say so" if failing else ""
    return (
        f"{told.sourced.passing} of {len(rows)} numbers agree with one from outside the project{fails}. By kind: "
        f"{', '.join(kinds)}. Of a table the worst entry is shown. Ours are worked out afresh each time that "
        '"hangflat evidence" runs.'
    )


def _of_practice(told: EvidenceTold) -> str:
    failing = told.practice.failing
    count = told.practice.passing + len(failing)
    return f"{told.practice.passing} of {count} hold" + (f"; {len(failing)} do not." if failing else ".")


def _mark(row: ToldCheck) -> str:
    return "yes" if row.passes else "NO"


def _worst(row: ToldCheck) -> str:
    if row.cases == 1:
        return str(row.case)
    failing = row.cases - row.passing
    fails = f", {failing} fail" if failing else ""
    return f"worst of {row.cases}{fails}: {row.case}"


def _number(value: float | None, row: ToldCheck) -> str:
    if value is None:
        return "-"
    text = f"{value:.{row.decimals}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def _ours(row: ToldCheck) -> str:
    return _number(row.ours, row) if row.ours is not None else "none"


def _theirs(row: ToldCheck) -> str:
    return _number(row.theirs, row)


def _allowed(row: ToldCheck) -> str:
    """ "± half width" where the source's value is the middle, else the two ends."""
    low, high, theirs = row.low, row.high, row.theirs
    half = 0.5 * (high - low)
    if theirs is not None and abs(theirs - 0.5 * (low + high)) < 1e-6 * half:
        text = f"± {half:.2g}"
    else:
        text = f"{_short(low)} to {_short(high)}"
    return f"{text} {row.unit}".rstrip()


def _short(value: float) -> str:
    return f"{value:.4g}"


def _coded(text: str) -> str:
    """Quoted commands as code."""
    parts = text.split('"')
    return "".join(f"`{p}`" if i % 2 else p for i, p in enumerate(parts))
