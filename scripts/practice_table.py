"""Hold whole divers against what the trade does every day:  .venv/bin/python scripts/practice_table.py [KEY=VALUE]

For each set-up of ``scenarios/practice``: the lead as weighed, the moment held flat, its 5 to 95 % band, whether flat
lies in it, which unknowns carry it, and what the means at hand bring. Settings (as after --set) go on all drysuits.
Common practice, no source: nothing here is a proof, and no number of the model was chosen by it.
"""

from __future__ import annotations

import sys

from scenarios.practice import SET_UPS, practice_path
from sim.answers.evidence.practice import DRY, as_worn, flat_of, means, title, weighed_lead, with_lead
from sim.case import Case
from sim.uncertainty.uncertain_settle import uncertain_settle


def main(settings: list[str]) -> None:
    for letter in SET_UPS:
        put = tuple(s for s in settings if letter in DRY or not s.startswith("suit"))
        lead = weighed_lead(letter, *put)
        flat = as_worn(letter, *put)
        print(f"\n{letter}  {title(letter)}")
        print(f"   lead as weighed {lead:.1f} kg; wing {1e3 * flat.wing_gas:.1f} l, suit {1e3 * flat.suit_gas:.1f} l")
        found = uncertain_settle(Case.read(practice_path(letter), [*put, *with_lead(lead)]), workers=2)
        low, high = found.moment.low, found.moment.high
        inside = "inside" if low <= 0.0 <= high else "outside"
        print(
            f"   held flat {flat.pitch_moment:+.1f} N m, 5 to 95 % {low:+.0f} to {high:+.0f} ({high - low:.0f} wide)"
        )
        print(f"   flat is {inside} the band; without lead {flat_of(letter, *put).pitch_moment:+.1f} N m")
        carried = [f"{s.name} {100.0 * s.share:.0f} %" for s in found.unknowns if not s.together][:5]
        print(f"   carried by {', '.join(carried)}")
        for words, step in zip(means_in_words(letter), means(letter), strict=True):
            print(f"   {words:<42}{flat_of(letter, *put, *step).pitch_moment:+6.1f} N m")


def means_in_words(letter: str) -> list[str]:
    """What each step of ``means`` adds."""
    words = [
        "up to 2 kg of the lead on the plate's tail",
        "and the cylinders 5 cm lower in their bands",
        "and steel springs on the fins",
    ]
    words += ["and gaiters"] if letter in DRY else []
    return [*words, "and 1 kg on the ankles"]


if __name__ == "__main__":
    main(sys.argv[1:])
