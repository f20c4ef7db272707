"""Whole divers held against what the trade does every day.

All of it is common practice without a source, partly one person's memory: strong as a question, weak as a proof. No
number of the model was chosen by it, and what fails is shown failing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import Final

from scenarios.demos import demo_path
from scenarios.practice import SET_UPS, practice_path
from scenarios.reading import read_scenario
from sim.answers.evidence.check import Check, Compared, Theme, within
from sim.answers.weigh import weighing
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.settling.settle import settle
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, flat_answer

THEME: Final[Theme] = "The whole against practice"
SOURCE: Final = "what divers do every day; no source, in part from memory"
AS_WORN: Final = 10.0  # N m: two kilograms moved half a metre, which a diver finds and mends in a dive or two
BALANCED: Final = 3.0  # N m
ENOUGH: Final = 60.0  # N m, more than any set-up needs: "no bound on this side"
LEADS: Final = {"A": (0.0, 7.0), "C": (2.0, 7.0), "E": (5.0, 11.0)}  # kg
DRY: Final = ("A", "B", "C", "E")
# Added up on a sheet of paper from published tables and the trade (tests/published/test_moment_budget_by_hand.py)
BY_HAND: Final = {"A": "-22 +- 15 N m", "E": "+2 +- 15 N m", "G": "+3 +- 10 N m"}


def checks() -> tuple[Check, ...]:
    def row(name: str, unit: str, decimals: int, compute: Callable[[], Sequence[Compared]], doubt: str = "") -> Check:
        return Check(THEME, name, SOURCE, "common practice", unit, decimals, compute, doubt)

    return (
        *(
            row(f"{letter}, moment held flat", "N m", 1, lambda k=letter: _as_worn(k), _doubt(letter))  # type: ignore[misc]
            for letter in SET_UPS
        ),
        row("lead as weighed (A, C, E)", "kg", 1, _leads, "neutral at 4 m and 50 bar, wing empty"),
        row(
            "left when brought to balance (A, B, C, E, G)", "N m", 1, _brought,
            "up to: cylinders 5 cm lower in the bands, 2 kg of lead to the tail, springs, gaiters, 1 kg on ankles",
        ),
        row("balanced demos stopped: 30 degrees after", "s", 1, _drift, "no less than 4 s"),
        row(
            "light feet, in lead on the ankles (A, E)", "kg", 1, _light_feet,
            "what would balance the diver as worn; the trade's remedy is 1 to 2 kg",
        ),
        row(
            "aluminium cylinder emptied: moment's change", "N m", 1, _aluminium,
            "G, from 200 to 20 bar; its foot rises: head-down, minus",
        ),
    )  # fmt: skip


def _doubt(letter: str) -> str:
    """Who it is, what is worn, and what a sheet of paper makes of it."""
    weighed = "lead on the belt as weighed: neutral at 4 m and 50 bar, wing empty; no gaiters; flat within 10 N m"
    by_hand = f"; added up by hand {BY_HAND[letter]}" if letter in BY_HAND else ""
    return f"{title(letter)}; {weighed}{by_hand}"


def title(letter: str) -> str:
    """What the set-up is, in words."""
    return read_scenario(practice_path(letter)).title or letter


@cache
def assembled(letter: str, *settings: str) -> Assembled:
    """The set-up as a rig."""
    return Case.read(practice_path(letter), settings).assembled


def flat_of(letter: str, *settings: str) -> FlatAnswer:
    """The set-up held flat."""
    return flat_answer(soft_rig(assembled(letter, *settings).rig))


@cache
def weighed_lead(letter: str, *settings: str) -> float:
    """Kilograms of lead with which the diver is neutral at 4 m with 50 bar and an empty wing; 0 if heavy without."""
    return weighing.weighed_lead(read_scenario(practice_path(letter), settings))


def with_lead(kilograms: float, place: str = "belt", number: int = 0) -> tuple[str, ...]:
    """Settings for an entry of lead; none for next to nothing."""
    if not kilograms >= 0.05:
        return ()
    return (f"lead.{number}.mass={kilograms:.2f} kg", f"lead.{number}.place={place}")


def as_worn(letter: str, *settings: str) -> FlatAnswer:
    """The set-up held flat with its lead on the belt."""
    return flat_of(letter, *settings, *with_lead(weighed_lead(letter, *settings)))


def _as_worn(letter: str) -> list[Compared]:
    return [within(as_worn(letter).pitch_moment, -AS_WORN, AS_WORN)]


def _leads() -> list[Compared]:
    return [within(weighed_lead(k), low, high, k) for k, (low, high) in LEADS.items()]


def means(letter: str) -> tuple[tuple[str, ...], ...]:
    """What a diver does against light feet, one after another, as settings."""
    lead = weighed_lead(letter)
    moved = min(lead, 2.0)
    low = (*with_lead(lead - moved), *with_lead(moved, "tail", 1 if lead - moved >= 0.05 else 0))
    entries = len(low) // 2
    steps = [low, (*low, "cylinders.shift=-5 cm"), (*low, "cylinders.shift=-5 cm", "fins.straps=steel springs")]
    if letter in DRY:
        steps.append((*steps[-1], "suit.gaiters=true"))
    steps.append((*steps[-1], *with_lead(1.0, "ankles", entries)))
    return tuple(steps)


def _brought() -> list[Compared]:
    """The moment nearest to nil of what the means give, which need not be used to their ends."""
    found = []
    for letter in SET_UPS:
        moments = [as_worn(letter).pitch_moment, *(flat_of(letter, *m).pitch_moment for m in means(letter))]
        left = 0.0 if min(moments) <= 0.0 <= max(moments) else min(moments, key=abs)
        found.append(within(left, -BALANCED, BALANCED, letter))
    return found


def _drift() -> list[Compared]:
    found = []
    for name in ("tall-man-steel", "small-woman-carbon"):
        run = settle(Case.read(demo_path(name)).assembled.rig)
        turned = [t for t, p in zip(run.path.time, run.path.pitch, strict=True) if abs(p) >= 0.5235987755982988]
        found.append(within(turned[0] if turned else 600.0, 4.0, 1000.0, name))
    return found


def _light_feet() -> list[Compared]:
    found = []
    for letter in ("A", "E"):
        bare = as_worn(letter).pitch_moment
        lead = with_lead(weighed_lead(letter))
        gained = flat_of(letter, *lead, *with_lead(1.0, "ankles", len(lead) // 2)).pitch_moment - bare
        found.append(within(-bare / gained, 0.0, 2.0, letter))
    return found


def _aluminium() -> list[Compared]:
    lead = with_lead(weighed_lead("G"))
    full, empty = (flat_of("G", *lead, f"cylinders.pressure={p} bar").pitch_moment for p in (200, 20))
    return [within(empty - full, -ENOUGH, -0.2)]
