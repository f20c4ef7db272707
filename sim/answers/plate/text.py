"""What is said of a plate, as text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.plate.answer import BendTold, PlateAnswer
from sim.answers.plate.change.text import change_text
from sim.answers.plate.checks import PlateCheck
from sim.answers.plate.design.text import design_text
from sim.answers.plate.divers.text import divers_text
from sim.answers.plate.fixed import across_words, balance_words, zone_words
from sim.answers.plate.fixed import millimetres as _mm
from sim.answers.plate.hold.text import hold_text
from sim.answers.plate.suits.text import suits_text
from sim.said import Sentence, word
from sim.telling.caution import told_caution
from sim.telling.drawn_plate import thickness_in_words
from sim.telling.language import quantity, say, set_apart, told
from sim.telling.words import bullets, rows, wrapped

# where the neutral line lies between the hollow side and the other: common practice in bending metal
NEUTRAL: Final = word(
    "Flat lengths are those of the sheet's middle (K-factor 0.5); a shop's own, 0.33 to 0.5, shifts lines"
)
BOTH: Final = {"shoulder slot": word("shoulder slot, both"), "waist slot": word("waist slot, both")}
FLAT = 5e-5  # m, of a channel's depth, below the shown digits


def plate_text(answer: PlateAnswer) -> str:
    """The whole answer for people."""
    lines = [
        answer.title,
        *rows(say("Plate"), _plate_rows(answer)),
        *rows(say("Places"), ((told(p.name), f"{told(p.source)}: {told(p.told)}") for p in answer.places)),
        *check_lines(answer.checks),
        *([] if answer.people is None else ["", suits_text(answer.people)]),
        *([] if answer.hold is None else [hold_text(answer.hold)]),
        *([] if answer.divers is None else [divers_text(answer.divers)]),
        *([] if answer.change is None else [change_text(answer.change)]),
        *([] if answer.design is None else [design_text(answer.design)]),
        *bullets(say("Look at"), map(told, [*answer.doubts, *answer.notes])),
        *bullets(say("Assumed"), map(told, answer.assumed)),
        *bullets(say("Read"), map(told, answer.read)),
        "",
        *wrapped(say("Caution: {caution}", caution=told_caution(answer.caution)), "", ""),
    ]
    return "\n".join(lines)


def check_lines(checks: Sequence[PlateCheck]) -> list[str]:
    """The checks as a table, left and right as one row where they are alike; below it where the limits come from."""
    paired = list(_paired(checks))
    sources = list(dict.fromkeys(c.source for c, _ in paired if c.source))
    cells = [("", "", "", say("measured"), say("wanted"))]
    cells += [(_mark(c), _named(c, both), told(c.what), _measured(c), _wanted(c, sources)) for c, both in paired]
    widths = [max(len(row[k]) for row in cells) for k in range(5)]
    lines = ["  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in cells]
    notes = [f"[{k}] {told(source)}" for k, source in enumerate(sources, 1)]
    failing = sum(c.passes is False for c, _ in paired)
    heading = say("As drawn: all as wanted")
    if failing:
        heading = say("As drawn: {failing} of {all} not as wanted", failing=failing, all=len(paired))
    return ["", heading, *lines, "", *(line for note in notes for line in wrapped(note, "  ", "      "))]


def mass_words(answer: PlateAnswer) -> str:
    """Mass, and weight in water."""
    mass, weight = quantity(answer.mass, "kg", 3), quantity(abs(answer.weight_in_water), "kg", 3)
    water = quantity(answer.water_density, "kg/m^3", 0)
    mass = say("{mass}, as weighed", mass=mass) if answer.weighed else mass
    if answer.weight_in_water >= 0.0:
        return say("{mass}; in water of {density} {weight}", mass=mass, density=water, weight=weight)
    return say("{mass}; in water of {density} it floats with {weight}", mass=mass, density=water, weight=weight)


def made_words(answer: PlateAnswer) -> str:
    """Thickness, material and density."""
    made, name = answer.material, told(answer.material.name)
    if made.known_as not in (None, made.name):
        name = say("{material} (as {known})", material=name, known=told(made.known_as or ""))
    density = quantity(made.density, "kg/m^3", 0)
    if answer.thickness is None:
        return f"{name}, {density}"
    return f"{say('{mm} thick, of {material}', mm=thickness_in_words(answer.thickness), material=name)}, {density}"


def not_as_wanted(checks: Sequence[PlateCheck]) -> list[str]:
    """What fails, as "crotch slot, sheet to the bend: 2.0 mm, wanted at least 6.0 mm"."""
    return [_failing(c, both) for c, both in _paired(checks) if c.passes is False]


def _failing(check: PlateCheck, both: bool) -> str:
    of, what, measured = _named(check, both), told(check.what), _measured(check)
    wanted = _wanted(check)
    if not wanted:
        return f"{of}, {what}: {measured}"
    return say("{of}, {what}: {measured}, wanted {wanted}", of=of, what=what, measured=measured, wanted=wanted)


def _plate_rows(answer: PlateAnswer) -> Iterator[tuple[str, str]]:
    if answer.file is not None and answer.unit is not None:
        drawn = say("{file}, {kind}; unit {unit}", file=answer.file, kind=told(answer.kind), unit=told(answer.unit))
        yield say("drawing"), drawn
    yield say("mass"), mass_words(answer)
    yield say("made"), made_words(answer)
    area = quantity(1e4 * answer.area, "cm^2", 1)
    yield say("area"), say("{area} as seen from behind", area=area) if answer.thickness is None else area
    yield say("size"), _size_words(answer)
    yield say("CM"), _cm_words(answer)
    ixx, iyy, izz = (answer.inertia[k][k] for k in range(3))
    yield (
        say("inertia"),
        say(
            "about the CM: {ixx:.5f} kg m^2 about the long axis, {iyy:.5f} across, {izz:.5f} about the axis to the "
            "back",
            ixx=float(ixx),
            iyy=float(iyy),
            izz=float(izz),
        ),
    )
    if answer.bends:
        yield say("bends"), set_apart(_bend(b) for b in answer.bends)
    for zone in answer.zones:
        yield say("zone"), zone_words(zone)
    for one in answer.fixed:
        yield say("fixed"), f"{told(one.name)}: {balance_words(one.balance)}"
    if answer.loaded is not None:
        yield say("in all"), balance_words(answer.loaded)


def _size_words(answer: PlateAnswer) -> str:
    wide = say("{mm} wide", mm=_mm(answer.width))
    if answer.bends:
        wide = say("{flat} wide flat, {bent} bent", flat=_mm(answer.flat_width), bent=_mm(answer.width))
    channel = say("no channel")
    if answer.channel_depth > FLAT:
        channel = say("channel {mm} deep", mm=_mm(answer.channel_depth))
    return say(
        "{mm} long, {width}, {depth} deep in all; {channel}",
        mm=_mm(answer.length),
        width=wide,
        depth=_mm(answer.depth),
        channel=channel,
    )


def _cm_words(answer: PlateAnswer) -> str:
    down = say("{mm} below the top edge", mm=_mm(answer.cm_down))
    behind = say("{mm} behind what lies on the back", mm=_mm(answer.cm_behind))
    return f"{down}, {across_words(answer.cm_across)}, {behind}"


def _bend(bend: BendTold) -> str:
    at = _mm(abs(bend.at))
    place = say("{mm} left", mm=at) if bend.at > 0.0 else say("{mm} right", mm=at)
    angle, radius, source = math.degrees(abs(bend.angle)), _mm(bend.inner_radius), told(bend.source)
    if bend.angle >= 0.0:
        return say(
            "{place}: {angle:.1f} degrees toward the diver, inner radius {radius} ({source})",
            place=place,
            angle=angle,
            radius=radius,
            source=source,
        )
    return say(
        "{place}: {angle:.1f} degrees away from the diver, inner radius {radius} ({source})",
        place=place,
        angle=angle,
        radius=radius,
        source=source,
    )


def _paired(checks: Sequence[PlateCheck]) -> Iterator[tuple[PlateCheck, bool]]:
    """Each check, and whether it stands for its mirror image, too, that measures the same."""
    seen: set[tuple[str, ...]] = set()
    for check in checks:
        side, _, thing = check.of.partition(" ")
        key = (thing, check.what, _measured(check), _wanted(check), _mark(check), check.missing)
        if side not in ("left", "right") or key not in seen:
            alike = side in ("left", "right") and any(
                (*o.of.partition(" ")[2:], o.what, _measured(o), _wanted(o), _mark(o), o.missing) == key
                for o in checks
                if o is not check
            )
            yield check, alike
        if side in ("left", "right"):
            seen.add(key)


def _named(check: PlateCheck, both: bool) -> str:
    if not both:
        return told(check.of)
    if isinstance(check.of, Sentence):
        return say("bend {at} out, both", at=check.of.fields["at"])
    return told(BOTH[check.of.partition(" ")[2]])


def _mark(check: PlateCheck) -> str:
    return {True: say("yes"), False: say("NO"), None: "?"}[check.passes]


def _measured(check: PlateCheck) -> str:
    measured = "" if check.measured is None else _mm(check.measured, _digits(check))
    return ", ".join(filter(None, (measured, told(check.missing))))


def _wanted(check: PlateCheck, sources: Sequence[str] = ()) -> str:
    """The limits, with the number of their source."""
    if check.least is None and check.most is None:
        return ""
    number = f" [{sources.index(check.source) + 1}]" if check.source in sources else ""
    least = check.least or 0.0
    if check.most is None:
        return say("at least {least}", least=_mm(least, _digits(check))) + number
    most = _mm(check.most, _digits(check))
    return say("{least} to {most}", least=quantity(1e3 * least, "mm", 1, bare=True), most=most) + number


def _digits(check: PlateCheck) -> int:
    """One behind the point, two where a check fails by less."""
    missed = [abs(check.measured - limit) for limit in (check.least, check.most) if check.measured and limit]
    return 2 if check.passes is False and missed and min(missed) < 1e-4 else 1
