"""The evidence as plain text, as a page of tables, and as the README's few sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

from sim.answers.evidence.answer import PRACTICE, EvidenceTold, ToldCheck
from sim.answers.evidence.protocol import MEASURE_IT, NEXT, NOT_YET_BELIEVED
from sim.said import word
from sim.telling.known_sentences import in_words
from sim.telling.language import comma, reader, say, say_count, told
from sim.telling.words import bullets, wrapped

ABOUT_PRACTICE: Final = word(
    "What divers do every day is common practice without a source, in part from memory: strong as a question, weak "
    "as a proof. No number was chosen by it, and what fails is shown failing."
)
OURS: Final = 57  # columns that a name and our number have
# what rows are about, sorts of sources, and words in the names of rows
WORDS: Final = (
    word("Water"), word("Breathing gas"), word("Gear"), word("Moving water"), word("Statics"), word("Motion"),
    word("Afloat"), word("The body's shape"), word("The body at rest"), word("Lungs and floating"),
    word("The plate's bench"), word("Fitted to one diver"), word("What is seen"), word("The whole against practice"),
    word("published"), word("computed elsewhere"), word("common practice"), word("memory"),
    word("front to back", sense="error"), word("left to right", sense="error"),
    word("along the body", sense="error"), word("arms at sides", sense="error"),
    word("arms overhead", sense="error"), word("men", sense="error"), word("women", sense="error"),
    word("steel plate"), word("aluminium plate"), word("carbon plate"),
)  # fmt: skip


def evidence_text(evidence: EvidenceTold) -> str:
    """Plain text, at most 100 columns wide. Sources, and what a comparison does not show, stay as they are cited."""
    lines = wrapped(_summary(evidence))
    if reader().language != "en":
        lines += wrapped(
            say("Sources, the entry that is worst and what a comparison does not show are told in English.")
        )
    theme = ""
    for row in evidence.checks:
        if row.theme != theme:
            theme = row.theme
            lines += ["", f"{told(theme):<50}{say('ours'):>12}{say('theirs'):>12}  {say('allowed')}", "-" * 100]
            lines += wrapped(f"{told(ABOUT_PRACTICE)} {_of_practice(evidence)}") if theme == PRACTICE else []
        mark, name, ours = _mark(row), in_words(row.check, part=True), _ours(row)
        if len(name) + len(ours) >= OURS:  # a line of its own
            lines.append(f"{mark:<5}{name}")
            mark = name = ""
        lines.append(f"{mark:<5}{name}{ours:>{OURS - len(name)}}{_theirs(row):>12}  {_allowed(row)}")
        about = "; ".join(p for p in (f"{told(row.kind)}: {row.source}", _worst(row), row.doubt) if p)
        lines += wrapped(about, "       ")
    lines += bullets(say("What is not validated"), map(told, evidence.not_validated))
    lines += bullets(say("How to check your own, on the bench and in the pool"), map(told, evidence.protocol))
    return "\n".join([*lines, "", *wrapped(told(NEXT))])


def evidence_page(evidence: EvidenceTold) -> str:
    """A Markdown page with every row, ending in a line end."""
    lines = ["# The numbers held against others", "", _coded(_summary(evidence)), ""]
    lines += ["| check | source | kind | ours | theirs | allowed | pass |", "|---|---|---|--:|--:|--:|---|"]
    lines += _table_lines([r for r in evidence.checks if r.theme != PRACTICE])
    lines += _practice_section([r for r in evidence.checks if r.theme == PRACTICE], evidence)
    lines += ["", "## What is not validated", "", *[f"- {text}" for text in evidence.not_validated], ""]
    lines += ["## Check your own, on the bench and in the pool", ""]
    lines += [f"{i}. {text}" for i, text in enumerate(evidence.protocol, 1)]
    return "\n".join([*lines, "", _coded(NEXT)]) + "\n"


def evidence_sentences(evidence: EvidenceTold, page: str) -> str:
    """The README's section in Markdown: how much agrees, what is not validated; ``page`` is where all of it is."""
    rows = sum(r.theme != PRACTICE for r in evidence.checks)
    fails = f"; the {failing} that fail are shown failing" if (failing := len(evidence.sourced.failing)) else ""
    text = (
        f"{evidence.sourced.passing} of {rows} numbers agree with one from outside the project{fails}: "
        f"[all of them]({page}). "
        "No measured attitude, and no measured trimming moment, of an equipped drysuit diver is known in the open "
        f"literature: the whole is held only against what divers do every day, and there {_of_practice(evidence)} "
        f"{NOT_YET_BELIEVED} {MEASURE_IT}"
    )
    return "\n".join(wrapped(text)) + "\n"


def _practice_section(asked: Sequence[ToldCheck], evidence: EvidenceTold) -> list[str]:
    if not asked:
        return []
    heading = ["", f"## {PRACTICE}", "", f"{ABOUT_PRACTICE} {_of_practice(evidence)}", ""]
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


def _summary(evidence: EvidenceTold) -> str:
    rows, failing = [r for r in evidence.checks if r.theme != PRACTICE], evidence.sourced.failing
    kinds = [f"{sum(r.kind == k for r in rows)} {told(k)}" for k in dict.fromkeys(r.kind for r in rows)]
    count: dict[str, Any] = {"passing": evidence.sourced.passing, "rows": len(rows), "kinds": ", ".join(kinds)}
    if not failing:
        return say(
            "{passing} of {rows} numbers agree with one from outside the project. By kind: {kinds}. Of a table the "
            'worst entry is shown. Ours are worked out afresh each time that "hangflat evidence" runs.',
            **count,
        )
    return say_count(
        "{passing} of {rows} numbers agree with one from outside the project; {n} does not, and says so. By kind: "
        '{kinds}. Of a table the worst entry is shown. Ours are worked out afresh each time that "hangflat evidence" '
        "runs.",
        "{passing} of {rows} numbers agree with one from outside the project; {n} do not, and say so. By kind: "
        '{kinds}. Of a table the worst entry is shown. Ours are worked out afresh each time that "hangflat evidence" '
        "runs.",
        len(failing),
        **count,
    )


def _of_practice(evidence: EvidenceTold) -> str:
    failing = len(evidence.practice.failing)
    passing, count = evidence.practice.passing, evidence.practice.passing + failing
    if failing:
        return say("{passing} of {count} hold; {failing} do not.", passing=passing, count=count, failing=failing)
    return say("{passing} of {count} hold.", passing=passing, count=count)


def _mark(row: ToldCheck) -> str:
    return say("yes") if row.passes else say("NO")


def _worst(row: ToldCheck) -> str:
    if row.cases == 1:
        return str(row.case)
    if failing := row.cases - row.passing:
        return say("worst of {cases}, {failing} fail: {case}", cases=row.cases, failing=failing, case=row.case)
    return say("worst of {cases}: {case}", cases=row.cases, case=row.case)


def _number(value: float | None, row: ToldCheck) -> str:
    if value is None:
        return "-"
    text = f"{value:.{row.decimals}f}"
    return comma(text.removeprefix("-") if float(text) == 0.0 else text)


def _ours(row: ToldCheck) -> str:
    return _number(row.ours, row) if row.ours is not None else say("none", "number")


def _theirs(row: ToldCheck) -> str:
    return _number(row.theirs, row)


def _allowed(row: ToldCheck) -> str:
    """ "± half width" where the source's value is the middle, else the two ends."""
    low, high, theirs = row.low, row.high, row.theirs
    half = 0.5 * (high - low)
    if theirs is not None and abs(theirs - 0.5 * (low + high)) < 1e-6 * half:
        text = f"± {comma(f'{half:.2g}')}"
    else:
        text = say("{low} to {high}", low=_short(low), high=_short(high))
    return f"{text} {row.unit}".rstrip()


def _short(value: float) -> str:
    return comma(f"{value:.4g}")


def _coded(text: str) -> str:
    """Quoted commands as code."""
    parts = text.split('"')
    return "".join(f"`{p}`" if i % 2 else p for i, p in enumerate(parts))
