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
from sim.answers.plate.fixed import balance_words, zone_words
from sim.answers.plate.hold.text import hold_text
from sim.answers.plate.suits.text import suits_text
from sim.telling.words import bullets, rows, wrapped

# where the neutral line lies between the hollow side and the other: common practice in bending metal
NEUTRAL: Final = (
    "Flat lengths are those of the sheet's middle (K-factor 0.5); a shop's own, 0.33 to 0.5, shifts lines"
)
FLAT = 5e-5  # m, of a channel's depth, below the shown digits


def plate_text(answer: PlateAnswer) -> str:
    """The whole answer for people."""
    lines = [
        answer.title,
        *rows("Plate", _plate_rows(answer)),
        *rows("Places", ((p.name, f"{p.source}: {p.told}") for p in answer.places)),
        *check_lines(answer.checks),
        *([] if answer.people is None else ["", suits_text(answer.people)]),
        *([] if answer.hold is None else [hold_text(answer.hold)]),
        *([] if answer.divers is None else [divers_text(answer.divers)]),
        *([] if answer.change is None else [change_text(answer.change)]),
        *([] if answer.design is None else [design_text(answer.design)]),
        *bullets("Look at", [*answer.doubts, *answer.notes]),
        *bullets("Assumed", answer.assumed),
        *bullets("Read", answer.read),
        "",
        *wrapped(answer.caution, "Caution: ", ""),
    ]
    return "\n".join(lines)


def check_lines(checks: Sequence[PlateCheck]) -> list[str]:
    """The checks as a table, left and right as one row where they are alike; below it where the limits come from."""
    paired = list(_paired(checks))
    sources = list(dict.fromkeys(c.source for c, _ in paired if c.source))
    cells = [("", "", "", "measured", "wanted")]
    cells += [(_mark(c), _named(c, both), c.what, _measured(c), _wanted(c, sources)) for c, both in paired]
    widths = [max(len(row[k]) for row in cells) for k in range(5)]
    lines = ["  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in cells]
    notes = [f"[{k}] {source}" for k, source in enumerate(sources, 1)]
    failing = sum(c.passes is False for c, _ in paired)
    said = f"{failing} of {len(paired)} not as wanted" if failing else "all as wanted"
    return ["", f"As drawn: {said}", *lines, "", *(line for note in notes for line in wrapped(note, "  ", "      "))]


def mass_words(answer: PlateAnswer) -> str:
    """Mass, and weight in water."""
    weight = answer.weight_in_water
    water = f"in water of {answer.water_density:.0f} kg/m^3 "
    heavy = f"{water}{weight:.3f} kg" if weight >= 0.0 else f"{water}it floats with {-weight:.3f} kg"
    return f"{answer.mass:.3f} kg{', as weighed' if answer.weighed else ''}; {heavy}"


def made_words(answer: PlateAnswer) -> str:
    """Thickness, material and density."""
    made = answer.material
    name = made.name if made.known_as in (None, made.name) else f"{made.name} (as {made.known_as})"
    thick = "" if answer.thickness is None else f"{_mm(answer.thickness)} thick, of "
    return f"{thick}{name}, {made.density:.0f} kg/m^3"


def not_as_wanted(checks: Sequence[PlateCheck]) -> list[str]:
    """What fails, as "crotch slot, sheet to the bend: 2.0 mm, wanted at least 6.0 mm"."""
    return [
        f"{_named(c, both)}, {c.what}: {_measured(c)}{', wanted ' * bool(_wanted(c))}{_wanted(c)}"
        for c, both in _paired(checks)
        if c.passes is False
    ]


def _plate_rows(answer: PlateAnswer) -> Iterator[tuple[str, str]]:
    if answer.file is not None and answer.unit is not None:
        yield "drawing", f"{answer.file}, {answer.kind}; unit {answer.unit}"
    yield "mass", mass_words(answer)
    yield "made", made_words(answer)
    seen = " as seen from behind" if answer.thickness is None else ""
    yield "area", f"{1e4 * answer.area:.1f} cm^2{seen}"
    wide = f"{_mm(answer.width)} wide"
    if answer.bends:
        wide = f"{_mm(answer.flat_width)} wide flat, {_mm(answer.width)} bent"
    deep = f"channel {_mm(answer.channel_depth)} deep" if answer.channel_depth > FLAT else "no channel"
    yield "size", f"{_mm(answer.length)} long, {wide}, {_mm(answer.depth)} deep in all; {deep}"
    yield "CM", _cm_words(answer)
    ixx, iyy, izz = (answer.inertia[k][k] for k in range(3))
    yield (
        "inertia",
        f"about the CM: {ixx:.5f} kg m^2 about the long axis, {iyy:.5f} across, {izz:.5f} about the axis to the back",
    )
    if answer.bends:
        yield "bends", "; ".join(_bend(b) for b in answer.bends)
    for zone in answer.zones:
        yield "zone", zone_words(zone)
    for one in answer.fixed:
        yield "fixed", f"{one.name}: {balance_words(one.balance)}"
    if answer.loaded is not None:
        yield "in all", balance_words(answer.loaded)


def _cm_words(answer: PlateAnswer) -> str:
    across = answer.cm_across
    side = "on the middle line"
    if abs(across) >= FLAT:
        side = f"{_mm(abs(across))} to the {'left' if across > 0.0 else 'right'} of the middle line"
    return f"{_mm(answer.cm_down)} below the top edge, {side}, {_mm(answer.cm_behind)} behind what lies on the back"


def _bend(bend: BendTold) -> str:
    way = "toward" if bend.angle >= 0.0 else "away from"
    side = "left" if bend.at > 0.0 else "right"
    return (
        f"{_mm(abs(bend.at))} {side}: {math.degrees(abs(bend.angle)):.1f} degrees {way} the diver, inner radius "
        f"{_mm(bend.inner_radius)} ({bend.source})"
    )


def _paired(checks: Sequence[PlateCheck]) -> Iterator[tuple[PlateCheck, bool]]:
    """Each check, and whether it stands for its mirror image, too, that measures the same."""
    told: set[tuple[str, ...]] = set()
    for check in checks:
        side, _, thing = check.of.partition(" ")
        key = (thing, check.what, _measured(check), _wanted(check), _mark(check), check.missing)
        if side not in ("left", "right") or key not in told:
            alike = side in ("left", "right") and any(
                (*o.of.partition(" ")[2:], o.what, _measured(o), _wanted(o), _mark(o), o.missing) == key
                for o in checks
                if o is not check
            )
            yield check, alike
        if side in ("left", "right"):
            told.add(key)


def _named(check: PlateCheck, both: bool) -> str:
    return f"{check.of.partition(' ')[2]}, both" if both else check.of


def _mark(check: PlateCheck) -> str:
    return {True: "yes", False: "NO", None: "?"}[check.passes]


def _measured(check: PlateCheck) -> str:
    told = "" if check.measured is None else _mm(check.measured, _digits(check))
    return ", ".join(filter(None, (told, check.missing)))


def _wanted(check: PlateCheck, sources: Sequence[str] = ()) -> str:
    """The limits, with the number of their source."""
    if check.least is None and check.most is None:
        return ""
    number = f" [{sources.index(check.source) + 1}]" if check.source in sources else ""
    if check.most is None:
        return f"at least {_mm(check.least or 0.0, _digits(check))}{number}"
    return f"{1e3 * (check.least or 0.0):.1f} to {_mm(check.most, _digits(check))}{number}"


def _digits(check: PlateCheck) -> int:
    """One behind the point, two where a check fails by less."""
    missed = [abs(check.measured - limit) for limit in (check.least, check.most) if check.measured and limit]
    return 2 if check.passes is False and missed and min(missed) < 1e-4 else 1


def _mm(length: float, digits: int = 1) -> str:
    return f"{1e3 * length:.{digits}f} mm"
