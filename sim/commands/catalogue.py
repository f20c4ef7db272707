"""``hangflat catalogue``: what may be written in a scenario file, and what ``--json`` prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Annotated, Any, Final

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import say_json

if TYPE_CHECKING:
    from sim.commands.listing import Entry

WIDTH: Final = 100
LISTS: Final = {
    "keys": "every key of a scenario file, with what it means (add a word, e.g. keys plate)",
    "measures": "the body measures that [diver.measures] takes",
    "poses": "the poses that pose = takes",
    "materials": "what plates are made of (add a name to see its numbers and their sources)",
    "fields": "every field of --json, with what it says (add an answer or a word, e.g. fields fit, fields waist)",
}


def catalogue(
    section: str = "",
    name: str = "",
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
) -> None:
    """List the generic gear by section, or what else a scenario file may say.

    Parameters
    ----------
    section
        A section such as plate, or keys, measures, poses, materials, fields; without one, all sections are listed.
    name
        One entry of the section, to see its values and their sources; after keys or fields, a word to look for; after
        fields also the name of a command, e.g. fit, or both.
    as_json
        Print one JSON object instead of text.
    """
    from sim.commands.listing import Listing

    title, found = _looked_up(section.lower(), " ".join(name.split()))
    if as_json:
        say_json(Listing(of=title, entries=tuple(found)))
    else:
        say("\n".join(_as_text(title, found)))


def _looked_up(section: str, name: str) -> tuple[str, list[Entry]]:
    """What the words mean: a heading and its entries."""
    from scenarios.catalogue import sections

    if not section:
        return "catalogue", _overview()
    if section == "keys":
        return "keys", _keys(name)
    if section == "measures":
        return "measures", _measures()
    if section == "poses":
        return "poses", _poses()
    if section == "materials":
        return "materials", _one_material(name) if name else _materials()
    if section == "fields":
        return "fields", _fields(name)
    if section in sections():
        return section, _one_entry(section, name) if name else _entries(section)
    import difflib

    known = [*sections(), *LISTS]
    near = difflib.get_close_matches(section, known, n=1, cutoff=0.5)
    meant = f'did you mean "{near[0]}"? ' if near else ""
    raise UsageError(f'the catalogue has no section "{section}"; {meant}known: {", ".join(known)}')


def _overview() -> list[Entry]:
    from scenarios.catalogue import entries, sections
    from sim.commands.listing import Entry

    found = [Entry(name=s, summary=", ".join(entries(s))) for s in sections()]
    return found + [Entry(name=k, summary=v) for k, v in LISTS.items()]


def _entries(section: Any) -> list[Entry]:
    from scenarios.catalogue import entries
    from sim.commands.listing import Entry

    return [Entry(name=e.name, summary=e.summary) for e in entries(section).values()]


def _one_entry(section: Any, name: str) -> list[Entry]:
    from scenarios.catalogue import entry
    from sim.commands.listing import Entry

    try:
        chosen = entry(section, name)
    except ValueError as error:
        raise UsageError(str(error)) from None
    return [
        Entry(name=key, value=value, source=chosen.sources.get(key, "")) for key, value in _flattened(chosen.values)
    ]


def _flattened(values: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in values.items():
        if isinstance(value, dict):
            yield from _flattened(value, f"{path}{key}.")
        else:
            yield path + key, value


def _keys(word: str) -> list[Entry]:
    from scenarios.scenario_keys import matching, scenario_keys
    from sim.commands.listing import Entry

    found = matching(scenario_keys(), word) if word else scenario_keys()
    if not found:
        raise UsageError(f'no key of a scenario has to do with "{word}"; hangflat catalogue keys lists them all')
    return [
        Entry(name=k.key, summary=k.meaning, choices=k.choices, example=k.example, needed=k.needed) for k in found
    ]


def _measures() -> list[Entry]:
    from scenarios.measure_names import measures
    from sim.commands.listing import Entry

    return [
        Entry(name=m.name, summary=f"{100 * m.least:.0f} to {100 * m.most:.0f} cm", survey_name=m.measure)
        for m in sorted(measures(), key=lambda m: m.name)
    ]


def _poses() -> list[Entry]:
    from typing import get_args

    from scenarios.pose import PoseName
    from sim.commands.listing import Entry

    return [Entry(name=str(p), summary="") for p in get_args(PoseName)]


def _materials() -> list[Entry]:
    from scenarios.materials import materials
    from sim.commands.listing import Entry

    return [
        Entry(name=m.name, summary=f"{m.kind}, {m.summary}" + (f"; also {', '.join(m.aliases)}" if m.aliases else ""))
        for m in materials().values()
    ]


def _one_material(name: str) -> list[Entry]:
    from scenarios.materials import material
    from sim.commands.listing import Entry

    try:
        chosen = material(name)
    except ValueError as error:
        raise UsageError(str(error)) from None
    return [Entry(name=key, value=value, source=chosen.sources[key]) for key, value in chosen.written.items()]


def _fields(words: str) -> list[Entry]:
    """Of one answer or of all, those that have to do with a word."""
    from sim.answers.formats import FORMATS
    from sim.commands.listing import Entry
    from sim.telling.record import fields_of

    first, _, rest = words.lower().partition(" ")
    of = [name for name in FORMATS if name.partition("/")[0] == f"hangflat.{first}"]
    word = rest if of else words.lower()
    found = [
        Entry(format=name, name=f.path, summary=f.meaning, unit=f.unit)
        for name in of or FORMATS
        for f in fields_of(FORMATS[name])
        if word in f"{f.path} {f.meaning}".lower()
    ]
    if not found:
        raise UsageError(f'no field has to do with "{words}"; hangflat catalogue fields lists them all')
    return found


def _as_text(title: str, found: list[Entry]) -> Iterable[str]:
    """A heading and one wrapped line for each entry; fields by the answer that they are of."""
    import itertools

    for of, entries in itertools.groupby(found, key=lambda e: e.format):
        yield f"{title[0].upper()}{title[1:]}" + (f" of {of}" if of else "")
        yield from _lines(list(entries))


def _lines(found: list[Entry]) -> Iterable[str]:
    import textwrap

    width = min(max(len(e.name) for e in found), 36)
    units = max(len(e.unit or "") for e in found)
    for e in found:
        said = e.summary or _valued(e)
        said += f": {', '.join(e.choices)}" if e.choices else ""
        said += f', e.g. "{e.example}"' if e.example else ""
        said += " (needed)" if e.needed else ""
        unit = f"{e.unit or '':<{units}}  " if units else ""
        yield from textwrap.wrap(
            said or " ", WIDTH, initial_indent=f"  {e.name:<{width}}  {unit}",
            subsequent_indent=" " * (width + 4 + len(unit)), break_long_words=False, drop_whitespace=bool(said),
        )  # fmt: skip


def _valued(entry: Entry) -> str:
    if entry.value is None:
        return ""
    return f"{entry.value}" + (f"  ({entry.source})" if entry.source else "")
