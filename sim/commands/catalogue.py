"""``hangflat catalogue``: what may be written in a scenario file, and what ``--json`` prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Annotated, Any, Final

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import say_json
from sim.said import Sentence, known, note, word
from sim.telling.known_sentences import in_words
from sim.telling.language import told
from sim.telling.words import GLUE, unbroken

if TYPE_CHECKING:
    from sim.commands.listing import Entry

WIDTH: Final = 100
LISTS: Final = {
    "keys": word("every key of a scenario file, with what it means (add a word, e.g. keys plate)"),
    "measures": word("the body measures that [diver.measures] takes"),
    "poses": word("the poses that pose = takes"),
    "materials": word("what plates are made of (add a name to see its numbers and their sources)"),
    "fields": word(
        "every field of --json, with what it says (add an answer or a word, e.g. fields fit, fields waist)"
    ),
}

HEADINGS: Final = {
    "catalogue": word("Catalogue"), "keys": word("Keys"), "measures": word("Measures"), "poses": word("Poses"),
    "materials": word("Materials"), "fields": word("Fields"),
}  # fmt: skip


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

    sections_known = [*sections(), *LISTS]
    near = difflib.get_close_matches(section, sections_known, n=1, cutoff=0.5)
    every = ", ".join(sections_known)
    if not near:
        raise UsageError(
            note('the catalogue has no section "{section}"; known: {every}', section=section, every=every)
        )
    raise UsageError(
        note(
            'the catalogue has no section "{section}"; did you mean "{near}"? known: {every}',
            section=section,
            near=near[0],
            every=every,
        )
    )


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


def _keys(about: str) -> list[Entry]:
    from scenarios.scenario_keys import matching, scenario_keys
    from sim.commands.listing import Entry

    found = matching(scenario_keys(), about) if about else scenario_keys()
    if not found:
        message = note(
            'no key of a scenario has to do with "{word}"; hangflat catalogue keys lists them all', word=about
        )
        raise UsageError(message)
    return [
        Entry(name=k.key, summary=k.meaning, choices=k.choices, example=k.example, needed=k.needed) for k in found
    ]


def _measures() -> list[Entry]:
    from scenarios.measure_names import measures
    from sim.commands.listing import Entry

    return [
        Entry(
            name=m.name,
            summary=note("{least:.0f} to {most:.0f} cm", least=100.0 * m.least, most=100.0 * m.most),
            survey_name=m.measure,
        )
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
        Entry(
            name=m.name,
            summary=note("{kind}, {numbers}; also {others}", kind=known(m.kind), numbers=m.summary, others=others)
            if (others := ", ".join(m.aliases))
            else note("{kind}, {numbers}", kind=known(m.kind), numbers=m.summary),
        )
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
    about = rest if of else words.lower()
    found = [
        Entry(format=name, name=f.path, summary=f.meaning, unit=f.unit)
        for name in of or FORMATS
        for f in fields_of(FORMATS[name])
        if about in f"{f.path} {f.meaning} {told(f.meaning)}".lower()
    ]
    if not found:
        message = note('no field has to do with "{words}"; hangflat catalogue fields lists them all', words=words)
        raise UsageError(message)
    return found


def _as_text(title: str, found: list[Entry]) -> Iterable[str]:
    """A heading and one wrapped line for each entry; fields by the answer that they are of."""
    import itertools

    for of, entries in itertools.groupby(found, key=lambda e: e.format):
        heading = told(HEADINGS.get(title, f"{title[0].upper()}{title[1:]}"))
        yield told(note("{heading} of {answer}", heading=heading, answer=of)) if of else heading
        yield from _lines(list(entries), named=title in ("measures", "materials"))


def _lines(found: list[Entry], *, named: bool) -> Iterable[str]:
    """named : each begins with what the reader calls it, where that differs from what is typed"""
    import textwrap

    width = min(max(len(e.name) for e in found), 36)
    units = max(len(e.unit or "") for e in found)
    for e in found:
        said = _summary(e.summary) if e.summary else _valued(e)
        if named and (own := told(e.name)) != e.name:
            said = f"{own}; {said}"
        said += f": {', '.join(e.choices)}" if e.choices else ""
        if e.example:
            said = told(note('{said}, e.g. "{example}"', said=said, example=e.example))
        said = told(note("{said} (needed)", said=said)) if e.needed else said
        unit = f"{e.unit or '':<{units}}  " if units else ""
        lines = textwrap.wrap(
            unbroken(said) or " ", WIDTH, initial_indent=f"  {e.name:<{width}}  {unit}",
            subsequent_indent=" " * (width + 4 + len(unit)), break_long_words=False, drop_whitespace=bool(said),
        )  # fmt: skip
        yield from (line.replace(GLUE, " ") for line in lines)


def _summary(text: str) -> str:
    return told(text) if isinstance(text, Sentence) else in_words(text, part=True)


def _valued(entry: Entry) -> str:
    if entry.value is None:
        return ""
    return f"{entry.value}" + (f"  ({entry.source})" if entry.source else "")
