"""The last page of the sheet: the file of measurements as it is to be, each box's number where its value goes."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.check_bench.bench_file import BENCH_FORMAT
from sim.answers.check_bench.paper_form import (
    POINT,
    Block,
    Text,
    beside_each_other,
    line_step,
    numbered,
    paragraph,
    space,
)
from sim.answers.check_bench.sheet_boxes import LEAD_PLACES, TICKED, SheetBox, boxes, ways, weighing_boxes
from sim.answers.check_bench.sheet_diver import SheetDiver
from sim.answers.check_bench.sheet_layout import BODY, KEY_SIZE, ROOM, SMALL, heading
from sim.said import word
from sim.telling.language import reader, say, told

TYPED: Final = 7.5  # pt, what is typed: as wide as two columns allow
LETTER: Final = 0.602  # of its size, the width of every letter of the typed font
LONGEST_NAME: Final = 22  # letters of a file's name that a command line on the page has room for
HEADS: Final = {
    "": f'format = "{BENCH_FORMAT}"',
    "water": "[water]",
    "float": "[[float]]",
    "balance": "[[balance]]",
    "freeze": "[freeze]",
}
INDENT: Final = 6.0  # mm of what is typed, below its sentence
COLUMN: Final = 0.5 * ROOM - 2.0  # mm


def into_the_file(diver: SheetDiver) -> Iterator[Block]:
    """Page 4."""
    name = diver.file or "student.toml"
    if len(name) > LONGEST_NAME:
        name = "DIVER.toml"
    name = f'"{name}"' if " " in name else name
    yield heading(say("At home: into the file"))
    steps: tuple[tuple[str, list[str]], ...] = (
        (WRITTEN, ["hangflat check-bench --template pool.toml"]),
        (COPIED, []),
        (DELETED, []),
        (ASKED, ["hangflat check-bench pool.toml", f"hangflat calibrate {name} pool.toml -o known.toml"]),
    )
    for k, (words, commands) in enumerate(steps, 1):
        yield numbered((told(words),), ROOM, BODY, first=k)
        if commands:
            yield beside_each_other((INDENT, typed(commands)))
            yield space(1.0)
    yield space(3.0)
    left, right = _halves([*_tables(diver), *_parts(diver)])
    yield beside_each_other((0.0, typed(left)), (COLUMN + 4.0, typed(right)))
    yield space(2.0)
    yield paragraph(told(OTHERWISE), ROOM, SMALL)
    if reader().language != "en":
        yield space(1.0)
        pairs = ", ".join(f"{told(one)} = {one}" for one in (*TICKED, *LEAD_PLACES))
        yield paragraph(say("Typed in English: {pairs}.", pairs=pairs), ROOM, KEY_SIZE)


WRITTEN: Final = word("Have the file of measurements written, with blanks, into the folder of the diver's file:")
COPIED: Final = word(
    'Write each box, with its unit, where its number stands below: "14 lb", "2.4 s". Repeated it? Write mean and '
    'spread: "6.5 +- 0.4 kg".'
)
DELETED: Final = word(
    "Delete each line whose box is empty, and a whole table when all its boxes are. With its depth told, the freeze "
    "test counts as done in the water of the other trials; without, in that of the diver's own file."
)
ASKED: Final = word("See what it says of this diver:")
OTHERWISE: Final = word(
    'Two leads in a box of 2: between = ["1 kg", "2 kg"] in place of lead. Lead elsewhere: in place of place, '
    'at = ["10 cm", "0 cm", "-8 cm"], how far it was from the hip joints toward head, left and back.'
)


def typed(text: Sequence[str]) -> Block:
    """Lines as they are typed."""
    step = line_step(TYPED)
    return Block(
        step * len(text), tuple(Text(t, (0.0, (0.78 + k) * step), TYPED, fixed=True) for k, t in enumerate(text))
    )


def _tables(diver: SheetDiver) -> Iterator[list[str]]:
    """The file's tables, each as its lines."""
    found = boxes(diver)
    for table, head in HEADS.items():
        members = [b for b in found if b.table == table]
        if table != "balance":
            yield [head, *_keys(members)]
            continue
        for worn in ways(diver):
            yield [head, f'worn = "{worn}"', *_keys([b for b in members if b.worn in (worn, None)])]
    name, *rest = weighing_boxes(0)
    yield [f"[[item]]   # {say('one for each row')}", f'name = "({name.number})"', *_keys(rest)]


def _parts(diver: SheetDiver) -> Iterator[list[str]]:
    """For each thing that is several parts of the model, the line that goes below its name, broken to the column."""
    most = int(COLUMN / (LETTER * POINT * TYPED))
    for row, thing in enumerate(diver.to_weigh):
        if thing.parts == (thing.name,):
            continue
        found = [f"# {say('below the name of {box}', box=weighing_boxes(row)[0].number)}", "parts = ["]
        for k, part in enumerate(thing.parts):
            word = json.dumps(part, ensure_ascii=False) + ("," if k < len(thing.parts) - 1 else "]")
            if len(found[-1]) + 1 + len(word) > most:
                found.append(" ")
            found[-1] += word if found[-1].endswith("[") else f" {word}"
        yield found


def _halves(tables: Sequence[Sequence[str]]) -> tuple[list[str], list[str]]:
    """The tables in two columns as equal as can be, an empty line between two."""
    ways = [(_one_column(tables[:k]), _one_column(tables[k:])) for k in range(1, len(tables))]
    return min(ways, key=lambda halves: max(map(len, halves)))


def _one_column(tables: Sequence[Sequence[str]]) -> list[str]:
    return [line for table in tables for line in ("", *table)][1:]


def _keys(members: Sequence[SheetBox]) -> Iterator[str]:
    """A line for each key."""
    tries = [f'"({b.number})"' for b in members if b.key == "times_to_30"]
    for box in members:
        if box.key == "times_to_30":
            if tries:
                yield f"times_to_30 = [{', '.join(tries[:2])},"
                yield f"  {', '.join(tries[2:])}]"
                tries = []
        else:
            given = box.given if 0 < len(box.given) <= LONGEST_NAME else f"({box.number})"
            yield f"{box.key} = {json.dumps(given, ensure_ascii=False)}"
