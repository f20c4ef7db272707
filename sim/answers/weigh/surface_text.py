"""The check that divers do at the surface, in words: how it is done, what it shows, what it asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.weigh.amounts import LEAST_SHOWN, kilograms, litres
from sim.answers.weigh.answer import SurfaceCheck, WeighAnswer
from sim.telling.language import quantity, say

BAR: Final = 1e5
AT_THE_EYES: Final = 0.015  # m: nobody sees less in a swell


def surface_rows(answer: WeighAnswer, check: SurfaceCheck) -> Iterator[tuple[str, str]]:
    """Names and sentences."""
    yield say("how"), _checked(answer, check)
    yield say("shows"), _water_line(check)
    if check.lead < LEAST_SHOWN:
        asks = say("no lead, if the eyes are to be at the water line")
    else:
        asks = say("{lead} of lead, if the eyes are to be at the water line", lead=kilograms(check.lead))
    yield say("asks for"), asks
    if check.full_floats is not None:
        size = kilograms(abs(check.full_floats))
        if check.full_floats < 0.0:
            full = say("with the cylinders as full as now you would sink with {size} in it", size=size)
        else:
            full = say("with the cylinders as full as now you would float {size} too high in it", size=size)
        yield say("full", sense="cylinders"), full


def _checked(answer: WeighAnswer, check: SurfaceCheck) -> str:
    """How the diver is at the surface."""
    how, chest = answer.how, litres(check.chest_gas)
    if how is None or answer.breathed is None:
        words = say("upright, wing empty, half a breath held ({chest} in the chest)", chest=chest)
    else:
        words = say(
            "upright, {left} left, wing empty, half a breath held ({chest} in the chest)",
            left=quantity(how.pressure / BAR, "bar", 0),
            chest=chest,
        )
    if check.suit_gas is None:
        return words
    return f"{words}, {say('suit vented ({gas} left in it)', gas=litres(check.suit_gas))}"


def _water_line(check: SurfaceCheck) -> str:
    line, size = check.water_line, kilograms(abs(check.floats))
    if line is None:
        if check.floats < 0.0:
            return say("you sink, {size} too heavy for the eyes at the water line", size=size)
        return say("you float with the chin out of the water, {size} too light", size=size)
    if abs(line) <= AT_THE_EYES:
        return say("the water line at your eyes: the check agrees with the stop")
    high, heavy = quantity(100.0 * abs(line), "cm", 0), check.floats < 0.0
    if line > 0.0 and heavy:
        return say("the water line {high} above your eyes: {size} too heavy for that", high=high, size=size)
    if line > 0.0:
        return say("the water line {high} above your eyes: {size} too light for that", high=high, size=size)
    if heavy:
        return say("the water line {high} below your eyes: {size} too heavy for that", high=high, size=size)
    return say("the water line {high} below your eyes: {size} too light for that", high=high, size=size)
