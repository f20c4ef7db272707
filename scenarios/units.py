"""Text with a unit, read to an SI float by an allow-list: whatever is not surely understood is refused.

General unit libraries read "12,5 kg" as 125 kg; here every spelling that is understood stands in ``unit_table``,
and everything else gets a sentence that says what to write.
"""

from __future__ import annotations

import difflib
import json
import math
import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, TypeVar

from scenarios.unit_table import EXAMPLES, Dimension, Unit, units, units_of

if TYPE_CHECKING:
    from meshes.mesh import Floats

Number = TypeVar("Number", float, "Floats")
LONGEST = 80  # characters; no quantity needs more, and a hostile text is not looked at
FEW = 3  # letters that a text in the usual unit may be longer than one in another
EVERYDAY = 4  # units of each dimension, the first of its list, that people use day by day


class UnitError(ValueError):
    """A text that is no quantity of the dimension asked for; the message says what to write."""


@dataclass(frozen=True)
class Measured:
    """A value in SI and, where the user gave one ("57 +- 0.5 kg"), its standard deviation in SI."""

    value: float
    sd: float | None = None


_DIGITS = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_NUMBER = rf"[-+]?(?:[0-9]+[ ]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_DIGITS})"
# A further number starts after a blank or after the mark for feet; digits inside a unit (m3, m^-3) do not count.
_TERM = re.compile(rf"\s*({_NUMBER})\s*(.*?)\s*(?=(?:(?<=[\s'])[-+]?\.?[0-9])|$)")
_SLIPS = {"mm", "cm", "m", "in", "ft", "g", "kg", "lb", "ml", "l", "cu ft", "Pa", "kPa", "bar", "psi"}
_SLIPS |= {"g/cm^3", "kg/l", "kg/m^3", "°C", "K", "°F", "deg", "rad", "g/m^2", "kg/m^2"}
_SPREAD = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_PAIRS = {("ft", "in"), ("m", "cm"), ("st", "lb"), ("lb", "oz"), ("h", "min"), ("min", "s")}
_SAME = str.maketrans(
    {
        "−": "-", "–": "-", "‐": "-", "‑": "-", "⁻": "-", "’": "'", "′": "'", "ʹ": "'", "“": '"', "”": '"', "″": '"',
        "⁄": "/", "∕": "/", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "·": "*", "⋅": "*", "×": "*", "º": "°",
        "¹": "1", "²": "2", "³": "3", "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "℃": "°C", "℉": "°F", "㎏": "kg",
    }
)  # fmt: skip
_DIGIT_THEN_SUPERSCRIPT = re.compile(r"[0-9][⁻¹²³]")


def parse(dimension: Dimension, text: str, example: str | None = None) -> float:
    """SI value of a text with unit such as "166 cm", "5 ft 5 in", "1/2 in" or "1.2e-05 m^3".

    A spread ("57 +- 0.5 kg") is read and left out; see :func:`parse_measured`. Raises UnitError.
    """
    return parse_measured(dimension, text, example).value


def parse_measured(dimension: Dimension, text: str, example: str | None = None) -> Measured:
    """SI value and spread of a text with unit. ``example`` is shown when the text is refused. Raises UnitError."""
    shown = example or EXAMPLES[dimension]
    if len(text) > LONGEST:
        raise UnitError(f"{_q(text[:30] + '...')} is too long for a {dimension}; write it like {_q(shown)}")
    if _DIGIT_THEN_SUPERSCRIPT.search(text):
        raise UnitError(f"{_q(text)} has a superscript right after a number; write it like {_q(shown)}")
    clean = text.translate(_SAME).strip()
    if "," in clean:
        raise UnitError(_about_the_comma(clean, shown))
    parts = _SPREAD.split(clean)
    if len(parts) == 1:
        return Measured(_quantity(dimension, clean, shown))
    if len(parts) != 2 or not all(parts):
        raise UnitError(f"{_q(text)}: a spread is written once, like {_q(_with_spread(shown))}")
    return _measured(dimension, parts[0], parts[1], shown)


def shown_in(dimension: Dimension, value: float) -> str:
    """An SI value as text in the unit a person would choose: 1.66 -> "166 cm"."""
    unit = _readable_unit(dimension, value)
    number = (value - unit.offset) / unit.factor
    return f"{number:.6g} {unit.name}"


def exact_text(dimension: Dimension, value: float) -> str:
    """An SI value as text that reads back to the same float (percentages to the last digit but one)."""
    exact = [u for u in units_of(dimension) if u.factor == 1.0 and u.offset == 0.0]
    unit = exact[0] if exact else units_of(dimension)[0]
    return f"{value / unit.factor!r} {unit.name}"


def exact_shown(dimension: Dimension, value: float) -> str:
    """As ``exact_text``, in the unit a person would choose where that takes few digits, else in one that does."""
    texts = []
    for unit in (_readable_unit(dimension, value), *units_of(dimension)[:EVERYDAY]):
        for digits in (15, 16, 17):
            text = f"{(value - unit.offset) / unit.factor:.{digits}g} {unit.name}"
            if parse(dimension, text) == value:
                texts.append(text)
                break
    shortest = min(map(len, texts), default=0)
    return next((t for t in texts if len(t) <= shortest + FEW), exact_text(dimension, value))


def unit_in(dimension: Dimension, text: str, example: str | None = None) -> Unit:
    """The first unit in a text such as "166 cm", "150 +- 30 bar" or (feet) "5 ft 5 in". Raises UnitError."""
    terms = [_TERM.match(part) for part in _SPREAD.split(text.translate(_SAME).strip())]
    name = next((t[2] for t in terms if t is not None and t[2]), "")
    return _unit(dimension, name, text, example or EXAMPLES[dimension])


def other_readings(dimension: Dimension, text: str) -> list[tuple[str, float]]:
    """The same number with the dimension's other everyday units: what a slip of the unit would have meant."""
    match = _TERM.match(text.translate(_SAME).strip())
    if match is None:
        return []
    number = match[1]
    usual = [u for u in units_of(dimension) if u.name in _SLIPS]
    return [(f"{number} {u.name}", scaled(_number(number, text), u) + u.offset) for u in usual]


def _measured(dimension: Dimension, main: str, spread: str, shown: str) -> Measured:
    """Value and spread; a unit left out of either side is the other's, and a spread may be a percentage."""
    main_term, spread_term = _TERM.fullmatch(main), _TERM.fullmatch(spread)
    if main_term is not None and spread_term is not None and not main_term[2]:
        main = f"{main} {spread_term[2]}"
    value = _quantity(dimension, main, shown)
    if spread_term is not None and not spread_term[2] and main_term is not None:
        spread = f"{spread} {main_term[2]}"
    if spread.endswith("%") and dimension != "fraction":
        sd = abs(value) * _quantity("fraction", spread, "2 %")
    else:
        sd = _quantity(dimension, spread, shown, difference=True)
    if not sd >= 0.0:
        raise UnitError(f"the spread {_q(spread)} must not be negative; write it like {_q(_with_spread(shown))}")
    return Measured(value, sd)


def _quantity(dimension: Dimension, text: str, shown: str, *, difference: bool = False) -> float:
    """One number with unit, or two as in "5 ft 5 in"; ``difference`` leaves a temperature's offset out."""
    terms: list[tuple[float, Unit]] = []
    at = 0
    while at < len(text):
        match = _TERM.match(text, at)
        if match is None or len(terms) == 2:
            raise UnitError(f"{_q(text)} is not understood as {_a(dimension)}; write it like {_q(shown)}")
        number, name = _number(match[1], text), match[2]
        if not name and match.end() < len(text):
            raise UnitError(f"{_q(text)} has a blank inside a number; write it like {_q(shown)}")
        if not name and terms and terms[0][1].name == "ft":
            name = "in"  # 5'5
        terms.append((number, _unit(dimension, name, text, shown)))
        at = match.end()
    if not terms:
        raise UnitError(f"an empty text is no {dimension}; write it like {_q(shown)}")
    if len(terms) == 2:
        return _two_terms(terms[0], terms[1], text, shown)
    number, unit = terms[0]
    return scaled(number, unit) + (0.0 if difference else unit.offset)


def scaled(number: Number, unit: Unit) -> Number:
    """number * factor, by division where that is the exact one: 166 cm is 166 / 100 = 1.66 to the last bit."""
    inverse = round(1.0 / unit.factor)
    if inverse > 1 and math.isclose(inverse * unit.factor, 1.0, rel_tol=1e-15):
        return number / inverse
    return number * unit.factor


def _two_terms(large: tuple[float, Unit], small: tuple[float, Unit], text: str, shown: str) -> float:
    (first, coarse), (second, fine) = large, small
    if (coarse.name, fine.name) not in _PAIRS or not first.is_integer():
        raise UnitError(f"{_q(text)} has two numbers that do not go together; write it like {_q(shown)}")
    if not 0.0 <= second * fine.factor < coarse.factor:
        raise UnitError(
            f"{_q(text)} is not understood: {second:g} {fine.name} does not lie between 0 and 1 {coarse.name}; "
            f"write it like {_q(shown)}"
        )
    return first * coarse.factor + math.copysign(second * fine.factor, first)


def _number(text: str, whole: str) -> float:
    try:
        if "/" not in text:
            value = float(text)
        else:
            sign = -1.0 if text.startswith("-") else 1.0
            *ahead, fraction = text.lstrip("+-").split()
            above, below = fraction.split("/")
            value = sign * (sum(float(a) for a in ahead) + float(above) / float(below))
    except (ValueError, ZeroDivisionError, OverflowError):
        raise UnitError(f"{_q(whole)} holds no number that can be worked out") from None
    if not math.isfinite(value):
        raise UnitError(f"{_q(whole)} is too large a number")
    return value


def _unit(dimension: Dimension, name: str, text: str, shown: str) -> Unit:
    if not name:
        raise UnitError(f"{_q(text)} has no unit; write it with one, like {_q(shown)}")
    candidates = _spellings().get(_spelling(name)) or _folded().get(_spelling(name).casefold(), ())
    for unit in candidates:
        if unit.dimension == dimension:
            return unit
    allowed = ", ".join(u.name for u in units_of(dimension))
    if candidates:
        raise UnitError(
            f"{_q(text)}: {_q(name)} is a unit of {candidates[0].dimension}, not of {dimension}; "
            f"write it like {_q(shown)} (known: {allowed})"
        )
    near = difflib.get_close_matches(name, [n for u in units_of(dimension) for n in u.names], n=1)
    meant = f" (did you mean {_q(near[0])}?)" if near else ""
    raise UnitError(
        f"{_q(text)}: {_q(name)} is no unit known here{meant}; write it like {_q(shown)} (known: {allowed})"
    )


def _spelling(name: str) -> str:
    """One spelling for the many ways to type a unit: no powers' marks, single blanks, none round signs."""
    tidy = name.replace("**", "^").replace("^", "").replace(" per ", "/")
    tidy = re.sub(r"\s*/\s*", "/", " ".join(tidy.replace("*", " ").split()))
    return tidy.rstrip(".") if len(tidy) > 1 else tidy


@cache
def _spellings() -> dict[str, tuple[Unit, ...]]:
    found: dict[str, tuple[Unit, ...]] = {}
    for unit in units():
        for name in unit.names:
            found[_spelling(name)] = tuple(dict.fromkeys((*found.get(_spelling(name), ()), unit)))
    return found


@cache
def _folded() -> dict[str, tuple[Unit, ...]]:
    """Spellings with the case ignored, except where a capital changes the meaning (mPa, MPa; n m, N m)."""
    found: dict[str, tuple[Unit, ...]] = {}
    for name, known in _spellings().items():
        if name not in {"MPa", "Nm", "N m"}:
            key = name.casefold()
            found[key] = tuple(dict.fromkeys((*found.get(key, ()), *known)))
    return found


def _readable_unit(dimension: Dimension, value: float) -> Unit:
    known = {u.name: u for u in units_of(dimension)}
    size = abs(value)
    if dimension == "length":
        return known["mm" if size < 0.03 else "cm" if size < 3.0 else "m"]
    if dimension == "mass":
        return known["g" if size < 0.1 else "kg"]
    if dimension == "pressure":
        return known["Pa" if size < 1e3 else "kPa" if size < 1e5 else "bar"]
    if dimension == "volume":
        return known["l" if size < 1.0 else "m^3"]
    return units_of(dimension)[0]


def _a(noun: str) -> str:
    """The noun with its article."""
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def _q(text: str) -> str:
    """As it would stand in the file; a double quote or a control character in it is escaped."""
    return json.dumps(text, ensure_ascii=False)


def _about_the_comma(text: str, shown: str) -> str:
    if re.match(r"[-+]?[0-9]+,[0-9]{3}(?![0-9])", text):
        return (
            f"{_q(text)} has a comma, which may mean a decimal or thousands; write "
            f"{_q(text.replace(',', '.', 1))} or {_q(text.replace(',', ''))}"
        )
    if re.match(r"[-+]?[0-9]*,[0-9]", text):
        return f"{_q(text)} has a decimal comma; write a point instead: {_q(text.replace(',', '.', 1))}"
    return f"{_q(text)} has a comma and is not understood; write it like {_q(shown)}"


def _with_spread(shown: str) -> str:
    number, _, unit = shown.partition(" ")
    return f"{number} +- 1 {unit}"
