"""What is left to swim up or hold down when one thing fails, as a table."""

from __future__ import annotations

from typing import Final

from sim.answers.weigh.amounts import LEAST_SHOWN, LITRE, kilograms, litres
from sim.answers.weigh.answer import Left, WeighAnswer
from sim.said import word
from sim.telling.language import quantity, say, told
from sim.telling.words import wrapped

SWUM: Final = 4.0  # kg: about what fins lift for a short while (from memory, 3 to 5)
LOST: Final = {
    "nothing": word("nothing lost"), "wing": word("wing torn"), "suit": word("suit flooded"),
    "lead": word("all lead lost"),
}  # fmt: skip
FAILED: Final = 26  # of one of the failures


def lost_words(lost: str) -> str:
    """What a failure loses."""
    return told(LOST[lost]) if lost in LOST else say("{lost} handed over", lost=told(lost))


def failures_table(answer: WeighAnswer) -> list[str]:
    """A line for each failure: what it leaves at the start and at the last stop [kg], and what that means."""
    lead = answer.told.lead >= LEAST_SHOWN
    columns = [say("at the start"), say("at the last stop")] if answer.how is not None else [say("as it stands")]
    names = {f.lost: lost_words(f.lost) for f in answer.failures}
    cells = {f.lost: [left_words(f.start), left_words(f.end)][: len(columns)] for f in answer.failures}
    wide = max(len(name) for name in names.values())
    cell = max(FAILED, *(len(text) for texts in (columns, *cells.values()) for text in texts))
    lines = ["", say("If one thing fails, with that lead") if lead else say("If one thing fails, without lead")]
    lines.append(f"  {'':<{wide}}" + "".join(f"  {c:>{cell}}" for c in columns))
    lines += [f"  {names[k]:<{wide}}" + "".join(f"  {c:>{cell}}" for c in texts) for k, texts in cells.items()]
    meant = say(
        "Swim up: what you are too heavy by with the wing as full as it helps; fins lift about {swum} for a short "
        "while (from memory). Hold down: what you are too light by with the wing empty.",
        swum=quantity(SWUM, "kg", 0),
    )
    lines += wrapped(meant, "  ")
    if answer.suit_room is not None:
        room = say(
            "With its valve shut the suit takes {room} more before it is taut: it can stand in for a torn wing.",
            room=quantity(answer.suit_room / LITRE, "l", 0),
        )
        lines += wrapped(room, "  ")
    return lines


def left_words(left: Left) -> str:
    """What a failure leaves, in a few words."""
    if left.weight >= LEAST_SHOWN:
        return say("swim up {size}", size=kilograms(left.weight))
    if left.weight <= -LEAST_SHOWN:
        return say("hold down {size}", size=kilograms(-left.weight))
    gas = 0.0 if left.wing_gas is None else left.wing_gas
    return say("neutral") if gas < LEAST_SHOWN * LITRE else say("wing holds it: {gas}", gas=litres(gas))
