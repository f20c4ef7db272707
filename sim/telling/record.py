"""Records of answers: each field says what it means, its unit and which way is plus, as ``Quantity`` does for input.

An answer is a frozen dataclass that holds SI numbers. JSON and the pages of ``hangflat catalogue fields`` follow from
its annotations, text and charts read its attributes:

    pitch_moment: Annotated[float, Told("what turns the diver held flat", "N m", plus="head-up")]

comes out as ``"pitch_moment_nm": -7.25``: the key is the field's name with its unit's, the number in that unit.
"""

from __future__ import annotations

import math
import types
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Annotated, Any, Final, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

import numpy as np

from sim.said import Sentence, known, note

Unit = Literal[
    "",
    "1",
    "m",
    "mm",
    "kg",
    "l",
    "s",
    "min",
    "deg",
    "rad",
    "N",
    "N m",
    "N m/rad",
    "N m/kg",
    "J",
    "Pa",
    "bar",
    "kg/m^3",
    "m/s^2",
    "%",
]

# each unit's ending of a key, and how much of it an SI unit is
UNITS: Final[Mapping[Unit, tuple[str, float]]] = {
    "": ("", 1.0),
    "1": ("", 1.0),
    "m": ("m", 1.0),
    "mm": ("mm", 1e3),
    "kg": ("kg", 1.0),
    "l": ("l", 1e3),
    "s": ("s", 1.0),
    "min": ("min", 1.0 / 60.0),
    "deg": ("deg", 180.0 / math.pi),
    "rad": ("rad", 1.0),
    "N": ("n", 1.0),
    "N m": ("nm", 1.0),
    "N m/rad": ("nm_per_rad", 1.0),
    "N m/kg": ("nm_per_kg", 1.0),
    "J": ("j", 1.0),
    "Pa": ("pa", 1.0),
    "bar": ("bar", 1e-5),
    "kg/m^3": ("kg_m3", 1.0),
    "m/s^2": ("m_s2", 1.0),
    "%": ("percent", 1e2),
}


@dataclass(frozen=True)
class Told:
    """Annotation of a field of an answer.

    meaning : one plain phrase for people, with frame and point where they matter
    unit : in which it is told; a float field holds SI all the same; that of a field which holds a record is the unit
        of the record's fields that have none
    plus : which way is plus, e.g. "head-up"
    none : what it means that there is none; such a field is told as null
    key : the key where it is not the field's name with its unit's ending
    left_out : no key at all, rather than null, where there is none
    names : for a mapping, what its keys are, e.g. "<demand>";  others : those of its keys that have another unit
    digits : behind the point, to which the number is rounded as it is told
    beside : a record whose fields stand in JSON beside those of the record that holds it
    """

    meaning: str
    unit: Unit = ""
    plus: str = ""
    none: str = ""
    key: str = ""
    left_out: bool = False
    names: str = ""
    others: tuple[tuple[str, Unit], ...] = ()
    digits: int | None = None
    beside: bool = False


FIELD: Final = "field"  # sense of what is said of one
T = TypeVar("T")
KEPT: Final = object()
Kept = Annotated[T, KEPT]  # a field that is worked with and not told


@dataclass(frozen=True)
class Field:
    """A field as users find it: ``path`` in the JSON, "[]" behind a list, and what is said of it."""

    path: str
    meaning: Sentence
    unit: str


@dataclass(frozen=True)
class _Entry:
    name: str
    key: str
    told: Told
    kind: Any


def as_json(record: Any) -> dict[str, Any]:
    """A record as plain numbers, lists and texts, ready for ``json.dumps``; what is not finite becomes null."""
    return _object(record, 1.0)


def _object(record: Any, outer: float) -> dict[str, Any]:
    """``outer`` : scale of the fields without a unit."""
    found: dict[str, Any] = {}
    kind: Any = type(record)
    for entry in _entries(kind):
        value = getattr(record, entry.name)
        if value is None and (entry.told.left_out or entry.told.beside):
            continue
        if entry.told.beside:
            found |= as_json(value)
        else:
            found[entry.key] = _value(value, entry.told, outer)
    return found


def _value(value: Any, told: Told, outer: float) -> Any:
    scale = UNITS[told.unit][1] if told.unit else outer
    if told.others:
        scales = {name: UNITS[unit][1] for name, unit in told.others}
        return {name: _plain(v, scales.get(name, scale), told.digits) for name, v in value.items()}
    return _plain(value, scale, told.digits)


def keys_of(kind: type) -> Iterator[tuple[str, Told]]:
    """The keys of a record's JSON in order, with what is said of each."""
    for entry in _entries(kind):
        if entry.told.beside:
            yield from keys_of(entry.kind if isinstance(entry.kind, type) else get_args(entry.kind)[0])
        else:
            yield entry.key, entry.told


def fields_of(kind: type, at: str = "", unit: Unit = "") -> Iterator[Field]:
    """Every field of a record's JSON, inner ones by their path, in order; ``unit`` : of those that have none."""
    for entry in _entries(kind):
        path = f"{at}.{entry.key}" if at else entry.key
        inner, path = _inner(entry.kind, path, entry.told.names)
        of = entry.told.unit or unit
        if is_dataclass(inner):
            if entry.told.none:
                yield Field(f"{at}.{entry.key}" if at else entry.key, _said(entry.told), "")
            yield from fields_of(inner, at if entry.told.beside else path, of)  # type: ignore[arg-type]
        else:
            yield Field(path, _said(entry.told), of)


def _said(told: Told) -> Sentence:
    meaning, way, none = (known(text, FIELD) for text in (told.meaning, told.plus, told.none))
    if told.plus and told.none:
        return note("{meaning}, plus {way}; null: {none}", meaning=meaning, way=way, none=none)
    if told.plus:
        return note("{meaning}, plus {way}", meaning=meaning, way=way)
    return note("{meaning}; null: {none}", meaning=meaning, none=none) if told.none else meaning


def words_of(kind: type) -> Iterator[str]:
    """What ``fields_of`` says of a record's fields, phrase by phrase, for the table of messages."""
    for field in fields_of(kind):
        phrases = field.meaning.fields.values() or [field.meaning]
        yield from (phrase.pattern for phrase in phrases)


@cache
def _entries(kind: type) -> tuple[_Entry, ...]:
    """Raises TypeError for a field that does not say what it means."""
    hints = get_type_hints(kind, include_extras=True)
    found = []
    for field in fields(kind):
        hint = hints[field.name]
        if KEPT in getattr(hint, "__metadata__", ()):
            continue
        told = next((a for a in getattr(hint, "__metadata__", ()) if isinstance(a, Told)), None)
        if told is None:
            raise TypeError(f"{kind.__name__}.{field.name} does not say what it means: annotate it with Told")
        ending = UNITS[told.unit][0]
        found.append(_Entry(field.name, told.key or "_".join(filter(None, (field.name, ending))), told, hint))
    return tuple(found)


def _inner(kind: Any, path: str, names: str) -> tuple[Any, str]:
    """What a hint holds in the end, and the path to it: through options, lists and mappings."""
    origin = get_origin(kind)
    if origin is Annotated:
        return _inner(get_args(kind)[0], path, names)
    if origin in (Union, types.UnionType):
        inner = [a for a in get_args(kind) if a is not type(None)]
        return _inner(inner[0], path, names)
    if origin is tuple and get_args(kind)[1:] == (...,) and is_dataclass(_bare(get_args(kind)[0])):
        return _inner(get_args(kind)[0], f"{path}[]", names)
    if origin in (Mapping, dict) or (isinstance(origin, type) and issubclass(origin, Mapping)):
        return _inner(get_args(kind)[1], f"{path}.{names}", names)
    return kind, path


def _bare(kind: Any) -> Any:
    return get_args(kind)[0] if get_origin(kind) is Annotated else kind


def _plain(value: Any, scale: float, digits: int | None = None) -> Any:
    if is_dataclass(value):
        return _object(value, scale)
    if isinstance(value, Mapping):
        return {str(k): _plain(v, scale, digits) for k, v in value.items()}
    if value is None or isinstance(value, bool | np.bool_ | str):
        return bool(value) if isinstance(value, np.bool_) else value
    if isinstance(value, int | np.integer):
        return int(value) if scale == 1.0 else _plain(float(value), scale, digits)
    if isinstance(value, float | np.floating):
        if not math.isfinite(value):
            return None
        return scale * float(value) if digits is None else round(scale * float(value), digits)
    if isinstance(value, Sequence | np.ndarray):
        return [_plain(v, scale, digits) for v in value]
    raise TypeError(f"an answer cannot tell a {type(value).__name__}")
