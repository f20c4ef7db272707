"""What an instructor reads of what to change: ``hangflat.change/1`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from sim.changes.candidates import AT_HAND
from sim.changes.together import SMALLEST
from sim.report.text import closing_lines, moment_lines, title_lines
from sim.report.words import NO_WEIGHT, rows, wrapped

Object = Mapping[str, Any]
NAMES: Final = 58  # letters that a change gets
GROUPS: Final = (
    ("With the gear at hand", AT_HAND),
    ("Held otherwise", ("pose",)),
    ("With other gear", ("gear",)),
)


def change_text(told: Object) -> str:
    """The moment now, what to change first, then every change by itself."""
    lines = [*moment_lines(told["pitch_moment_nm"]), *title_lines(told), *rows("What to change", _advice_rows(told))]
    shown = [c for c in told["changes"] if abs(c["difference_nm"]) >= SMALLEST]
    for heading, kinds in GROUPS:
        lines += _table(heading, [c for c in shown if c["kind"] in kinds])
    note = "Moment: with that change alone, held flat; plus turns head-up. Nearest to balance first."
    if len(shown) < len(told["changes"]):
        note += f" Left out: {len(told['changes']) - len(shown)} changes that move it by less than {SMALLEST} N m."
    lines += ["", *wrapped(note)]
    lines += rows("Cannot be", ((left["what"], left["why"]) for left in told["left_out"]))
    return "\n".join([*lines, *closing_lines(told)])


def _advice_rows(told: Object) -> Iterator[tuple[str, str]]:
    within = told["within_nm"]
    if abs(told["pitch_moment_nm"]) <= within:
        yield "nothing", f"less than {within:.0f} N m is held without anybody seeing an effort (assumed)"
        return
    if told["advice"] is None:
        yield "at hand", "nothing that can be adjusted brings it nearer to balance"
    else:
        yield from _set_rows(told["advice"], within)
    if told["with_gear"] is not None:
        yield "or", "with other gear:"
        yield from _set_rows(told["with_gear"], within)


def _set_rows(advice: Object, within: float) -> Iterator[tuple[str, str]]:
    for number, words in enumerate(advice["changes"], start=1):
        yield f"{number}.", words
    moment = advice["pitch_moment_nm"]
    then = f"{abs(moment):.1f} N m head-{'up' if moment > 0.0 else 'down'}"
    if advice["reaches"]:
        meaning = "which is held without anybody seeing an effort"
    else:
        meaning = f"the nearest to less than {within:.0f} N m that three such changes come"
    yield "then", f"{then}, {meaning}; {advice['wing_gas_l']:.1f} l in the wing{_floats(advice)}"
    yield "try it", "hangflat settle FILE " + " ".join(f'--set "{s}"' for s in advice["settings"])


def _floats(told: Object) -> str:
    net = told["net_buoyancy_kg"]
    if abs(net) < NO_WEIGHT:
        return ""
    return f", which {'floats' if net > 0.0 else 'sinks'} the diver by {abs(net):.1f} kg"


def _table(heading: str, changes: Sequence[Object]) -> list[str]:
    if not changes:
        return []
    head = f"  {heading:<{NAMES}}  {'moment':>11}  {'change':>11}"
    return ["", head, "  " + "-" * (len(head) - 2), *(line for c in changes for line in _row(c))]


def _row(change: Object) -> Iterator[str]:
    first, *more = wrapped_to(change["what"], NAMES)
    yield f"  {first:<{NAMES}}  {change['pitch_moment_nm']:>+7.1f} N m  {change['difference_nm']:>+7.1f} N m"
    yield from (f"    {line}" for line in more)
    for words, names in (("but then fails", change["then_fails"]), ("and then passes", change["then_passes"])):
        if names:
            yield f"    {words}: {', '.join(names)}"
    net = change["net_buoyancy_kg"]
    if abs(net) >= NO_WEIGHT:
        yield f"    {'floats up' if net > 0.0 else 'sinks'} with {abs(net):.1f} kg: the wing cannot make up for it"


def wrapped_to(text: str, width: int) -> list[str]:
    """Lines of at most ``width`` letters."""
    import textwrap

    return textwrap.wrap(text, width, break_on_hyphens=False)
