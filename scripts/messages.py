#!/usr/bin/env python3
"""The table of messages: what the program says, and what of it is not translated yet.

python3 scripts/messages.py          lists what is missing, wrong or gone in each language; exit code 1 if anything is
python3 scripts/messages.py --tidy   writes each sim/telling/po/*.po anew, in the order of the sources: what is new
                                     stands there with an empty translation, what is said no more goes
"""

from __future__ import annotations

import ast
import csv
import json
import re
import string
import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TABLES = ROOT / "sim" / "telling" / "po"
SAID = {"say", "note", "word"}  # their first argument is a message
COUNTED = "say_count"  # its first two are its forms
MODULES = {"sim.telling.language", "sim.said"}  # where these come from: the console has a "say" of its own
# Files whose errors are told in the reader's language: their sentences come into the table as they are raised, and
# are known again by what stands between their fields (sim/telling/known_sentences.py)
ERRORS = (
    *(f"scenarios/{name}.py" for name in (
        "units", "fault_words", "toml_file", "quantities", "catalogue/lookup", "materials", "settings",
        "measure_names", "reading", "notes", "plate_file", "study", "study_axes", "study_reading", "people_file",
        "parts_file", "known", "back_gear", "cylinders", "loose_gear", "suit", "breathing", "believable",
        "plate_additions", "diver", "joint_names", "toml_lines", "models", "water", "later", "rebreather",
    )),
    *(f"meshes/drawings/{name}.py" for name in (
        "dxf_census", "mending", "outline_assembly", "outline_crossings", "outline_dxf", "outline_import",
        "outline_lines", "outline_svg", "shape_file", "solid_census", "solid_import", "step_reader", "svg_census",
        "xml_walk",
    )),
    *(f"meshes/plate/{name}.py" for name in (
        "additions", "back_plate", "drawn_bends", "edges", "from_drawing", "holes", "rearranged", "shape", "sheet",
        "slots", "solid", "stretched", "written", "zones",
    )),
    *(f"sim/assembly/{name}.py" for name in (
        "back_plate", "rebreather", "stage_cylinder", "strap_length", "suit_cut",
    )),
    *(f"sim/answers/{name}.py" for name in (
        "calibrate/calibrate", "check_bench/bench_file", "check_bench/compare", "check_bench/readings",
        "check_bench/situations", "film/correction", "film/encoder", "film/sweep", "fit/plates", "fit/sweep",
        "fit/sweep_kinds", "later/along", "later/answer", "later/empty_report", "plate/design/brief",
        "plate/drawn/paper", "plate/drawn/picture", "plate/drawn/sheet", "plate/hold/run", "plate/laid", "seen/typed",
        "settle/afloat/surface", "sheet/typeset", "study/crew", "study/effects", "study/folder", "study/indices",
        "study/needed", "study/results", "study/run",
    )),
    *(f"sim/page/{name}.py" for name in ("desk", "guard", "server", "set_up", "trunk_angle")),
    *(f"sim/commands/{name}.py" for name in (
        "whole_file", "console", "looking", "traced", "settle", "check_bench", "calibrate", "compare", "demo",
        "empty", "film", "fit", "fit_people", "fit_sweep", "later", "model", "open", "plate", "plate_design",
        "plate_divers", "plate_hold", "plate_people", "seen", "sheet", "study",
    )),
    "sim/hanging.py", "sim/person/person.py", "sim/worker_pool.py", "sim/drawing/own_style.py",
    "sim/drawing/saved.py", "sim/uncertainty/buoyancy.py", "sim/uncertainty/variants.py",
)  # fmt: skip
# of these also what is returned or named before it is raised or noted
NOTED = (
    "scenarios/", "meshes/", "sim/answers/fit/sweep_kinds", "sim/answers/seen/typed", "sim/answers/later/along",
    "sim/answers/check_bench/bench_file", "sim/answers/check_bench/compare", "sim/answers/plate/design/brief",
    "sim/commands/plate_design", "sim/page/guard", "sim/answers/study/needed",
)  # fmt: skip
ERROR, FIELD = "error", "field"  # senses of errors, and of what is said of the fields of --json
FORMS = {"de": "nplurals=2; plural=(n != 1);", "fr": "nplurals=2; plural=(n > 1);", "pl": (
    "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2);"
)}  # fmt: skip
NAMES = {"de": "German", "pl": "Polish", "fr": "French"}


@dataclass(frozen=True)
class Message:
    """What is said somewhere: its English, with its plural where it has one, and where."""

    text: str
    many: str
    sense: str
    places: tuple[str, ...]

    @property
    def key(self) -> str:
        return f"{self.sense}\4{self.text}" if self.sense else self.text


class NotWholeError(Exception):
    """A message that is put together as it is said: no table can hold it."""


def messages(root: Path = ROOT) -> dict[str, Message]:
    """Every message of the sources by its key, in the order of the files."""
    found: dict[str, Message] = {}
    for path in sorted((root / "sim").rglob("*.py")):
        source = path.read_text(encoding="utf-8")
        if not any(module in source for module in MODULES):
            continue
        place = path.relative_to(root).as_posix()
        for one in messages_of(source, place):
            before = found.get(one.key)
            if before is not None and place not in before.places:
                one = Message(one.text, one.many or before.many, one.sense, (*before.places, place))
            found[one.key] = before if before is not None and place in before.places and not one.many else one
    for name, place in (*help_words(root), *meanings(root), *names_in_data(root), *comments(root)):
        found.setdefault(name, Message(name, "", "", (place,)))
    for text, place in field_words(root):
        found.setdefault(f"{FIELD}\4{text}", Message(text, "", FIELD, (place,)))
    for text, place in (*refusals(root), *names_of_checks(root)):
        found.setdefault(f"{ERROR}\4{text}", Message(text, "", ERROR, (place,)))
    for place in ERRORS:
        for text in errors_of((root / place).read_text(encoding="utf-8"), raised=not place.startswith(NOTED)):
            found.setdefault(f"{ERROR}\4{text}", Message(text, "", ERROR, (place,)))
    return found


# records that no page of fields tells of: a study's own files, what the page in the browser asks for
UNTOLD = ("sim/page/", "sim/commands/listing.py", "sim/answers/study/record.py")


NAMED = re.compile(r"[\w-]+[./][\w./]+")  # a format or another field, which no language has another name for


def field_words(root: Path) -> Iterator[tuple[str, str]]:
    """What pages of fields say of each field of each answer, phrase by phrase, and where that stands.

    Of a field that holds a record they say nothing but what it means that there is none.
    """
    trees = {
        path.relative_to(root).as_posix(): ast.parse(source)
        for path in sorted((root / "sim").rglob("*.py"))
        if "Told(" in (source := path.read_text(encoding="utf-8"))
    }
    classes = [(node, place) for place, tree in trees.items() for node in tree.body if isinstance(node, ast.ClassDef)]
    records = {f"{place}:{node.name}" for node, place in classes if "Told(" in ast.unparse(node)}
    for node, place in classes:
        names = {f"{place}:{one.name}": one.name for one, there in classes if there == place} | {
            f"{one.module.replace('.', '/')}.py:{alias.name}": alias.asname or alias.name
            for one in ast.walk(trees[place]) if isinstance(one, ast.ImportFrom) and one.module
            for alias in one.names
        }  # fmt: skip
        known = {name for whole, name in names.items() if whole in records}
        for field in node.body if not place.startswith(UNTOLD) else ():
            if isinstance(field, ast.AnnAssign) and isinstance(field.annotation, ast.Subscript):
                yield from ((text, place) for text in _told_of(field.annotation, known))


def _told_of(annotation: ast.Subscript, records: set[str]) -> Iterator[str]:
    held = {one.id for one in ast.walk(annotation) if isinstance(one, ast.Name)}
    for call in ast.walk(annotation):
        if isinstance(call, ast.Call) and _called(call) == "Told":
            said = [call.args[0], *(k.value for k in call.keywords if k.arg in ("plus", "none"))]
            if not held & records or any(k.arg == "none" for k in call.keywords):
                texts = (one.value for one in said if isinstance(one, ast.Constant))
                yield from (text for text in texts if not NAMED.fullmatch(text))


def names_of_checks(root: Path) -> Iterator[tuple[str, str]]:
    """What each row of the evidence compares, with its fields numbered, and where that stands."""
    for path in sorted((root / "sim" / "answers" / "evidence").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            at = {"Check": 1, "row": 0}.get(_called(node)) if isinstance(node, ast.Call) else None
            if at is not None:
                texts = (numbered(one) for one in node.args[at : at + 1])
                yield from (
                    (text, path.relative_to(root).as_posix()) for text in texts if text and text != "{0} plate"
                )


def refusals(root: Path) -> Iterator[tuple[str, str]]:
    """What is said where a case that is no scenario is asked for one, ``case.scenario("give ...")``, and where."""
    for path in sorted((root / "sim").rglob("*.py")):
        source = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(source)) if ".scenario(" in source else ():
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "scenario":
                texts = [one.value for one in node.args[:1] if isinstance(one, ast.Constant)]
                yield from ((text, path.relative_to(root).as_posix()) for text in texts if text)


def errors_of(source: str, *, raised: bool) -> Iterator[str]:
    """Sentences of a file's errors with their fields numbered, "{0} has no unit; write it like {1}".

    raised : only what stands in a raise, else also what is returned or named before
    """
    tree = ast.parse(source)
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    for node in ast.walk(tree):
        text = numbered(node)
        if text is None or isinstance(parents[node], ast.JoinedStr | ast.FormattedValue | ast.Expr):
            continue
        words = re.findall(r"(?<![\\{])\b[A-Za-z]{2,}\b", text)
        if (not raised and "{" not in text and text.count(" ") < 2) or re.match(r"[\w.]+ = ", text):
            continue  # the name of something, or a line of a file
        if len(words) > 1 and " " in text and max(map(len, words)) > 3 and _is_error(node, parents, raised):
            yield text


def numbered(node: ast.AST) -> str | None:
    """A text with its fields numbered; fields side by side are one."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value.replace("{", "{{").replace("}", "}}")
    if not isinstance(node, ast.JoinedStr):
        return None
    text, count = "", 0
    for value in node.values:
        if isinstance(value, ast.Constant):
            text += str(value.value).replace("{", "{{").replace("}", "}}")
        elif not text.endswith("}") or text.endswith("}}"):
            text += f"{{{count}}}"
            count += 1
    return text


# what takes texts that are no errors: what keys mean, which come into the table with the pages that tell it, and
# messages that are told with their fields
NO_ERRORS = {"compile", "Quantity", "Point", *SAID}


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")


def _is_error(node: ast.AST, parents: Mapping[ast.AST, ast.AST], raised: bool) -> bool:
    while node in parents:
        above = parents[node]
        if isinstance(above, ast.Raise) or (isinstance(above, ast.Call) and _called(above) == "Problem"):
            return True
        if isinstance(above, ast.Assign) and [ast.unparse(one) for one in above.targets] == ["message"]:
            return True
        if isinstance(above, ast.Subscript) or (isinstance(above, ast.Call) and _called(above) in NO_ERRORS):
            return False
        if isinstance(above, ast.keyword) and above.arg == "description":
            return False
        if isinstance(above, ast.Dict) and any(isinstance(k, ast.Constant) and k.value == "type" for k in above.keys):
            return False  # a schema's words, for programs
        if isinstance(above, ast.Return | ast.Assign | ast.Yield):
            return not raised
        if isinstance(above, ast.Call) and isinstance(above.func, ast.Attribute) and above.func.attr == "append":
            return not raised
        node = above
    return False


def help_words(root: Path) -> Iterator[tuple[str, str]]:
    """What pages of help say of each thing that can be given, a paragraph at a time, and where that stands."""
    for path in sorted((root / "sim" / "commands").glob("*.py")):
        place = path.relative_to(root).as_posix()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "help" and isinstance(node.value, ast.Constant):
                yield from ((text, place) for text in _paragraphs(_text(node.value, place)))
            elif isinstance(node, ast.FunctionDef):
                _, _, given = (ast.get_docstring(node) or "").partition("\nParameters\n----------\n")
                # below a line with its name, further in, stands what it means
                meanings = re.split(r"^\S.*$", given, flags=re.MULTILINE)
                yield from ((text, place) for meaning in meanings for text in _paragraphs(meaning))


def _paragraphs(text: str) -> list[str]:
    """Each as one line; none of nothing."""
    return [" ".join(part.split()) for part in re.split(r"\n\s*\n", text) if part.strip()]


# What a scenario file may say, which pages of keys tell; of other files errors alone tell
KEYS = (
    "back_gear", "boots", "breathing", "cylinders", "diver", "fit", "later", "loose_gear", "models",
    "plate_additions", "pose", "rebreather", "suit", "water",
)  # fmt: skip
UNLISTED = (
    "scenarios/known.py", "scenarios/parts_file.py", "scenarios/study_axes.py",
    "sim/answers/check_bench/bench_file.py", "sim/commands/plate_design.py",
)  # fmt: skip


def meanings(root: Path) -> Iterator[tuple[str, str]]:
    """What the keys of a scenario file mean, and where that stands: descriptions, and meanings of quantities."""
    for place in (*(f"scenarios/{name}.py" for name in KEYS), *UNLISTED):
        for node in ast.walk(ast.parse((root / place).read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            at = {"Quantity": (1, 5), "Point": (0,)}.get(node.func.id, ())  # of a quantity also why it is in a range
            told = {("Quantity", "why"), *([] if place in UNLISTED else [("Field", "description")])}
            said = [k.value for k in node.keywords if (node.func.id, k.arg) in told]
            said += [one for place_of in at for one in node.args[place_of : place_of + 1]]
            yield from ((one.value, place) for one in said if isinstance(one, ast.Constant))


def names_in_data(root: Path) -> Iterator[tuple[str, str]]:
    """What readers are told of by the names of a data file, and where that stands."""
    for path in sorted((root / "scenarios" / "catalogue").glob("*.toml")):
        entries = tomllib.loads(path.read_text(encoding="utf-8")).values()
        yield from ((entry["summary"], path.relative_to(root).as_posix()) for entry in entries)
    place = "scenarios/demos/__init__.py"
    for node in ast.parse((root / place).read_text(encoding="utf-8")).body:
        if isinstance(node, ast.AnnAssign) and isinstance(node.value, ast.Dict):
            yield from ((text, place) for text in ast.literal_eval(node.value).values())
    place = "scenarios/measure_names.csv"
    for row in csv.DictReader((root / place).read_text(encoding="utf-8").splitlines()):
        yield row["name"], place
    place = "scenarios/materials.toml"
    for name, one in tomllib.loads((root / place).read_text(encoding="utf-8")).items():
        spoken = [alias for alias in one["aliases"] if alias.replace(" ", "").isalpha()]
        yield from ((text, place) for text in (name, *spoken, one["kind"], one["least_bend"]["source"]))


# what writes a file for people: its comments are told in their language (sim/telling/file_comments.py)
WRITTEN = (
    "scenarios/new_scenario.py", "sim/answers/calibrate/known_file.py", "sim/answers/check_bench/template.py",
)  # fmt: skip
BESIDE = {"_line": 2, "_said": 1}  # which argument of theirs is a comment


def comments(root: Path) -> Iterator[tuple[str, str]]:
    """What is said in the comments of files that are written for people, and where that stands."""
    from sim.telling.file_comments import messages_in

    for path in sorted((root / "scenarios" / "demos").glob("*.toml")):
        yield from ((one, path.relative_to(root).as_posix()) for one in messages_in(path.read_text(encoding="utf-8")))
    for place in WRITTEN:
        for text in comments_of((root / place).read_text(encoding="utf-8")):
            yield from ((one, place) for one in messages_in(text))


def comments_of(source: str) -> Iterator[str]:
    """Texts with comments of a file that writes one: what it holds line by line, and what is put behind a value."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.AnnAssign) and ast.unparse(node.annotation) == "Final":
            text = node.value.value if isinstance(node.value, ast.Constant) else ""
            if isinstance(text, str) and " " in text:
                yield text if "# " in text else f"x = 1 # {text}"
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in BESIDE:
            behind = node.args[BESIDE[node.func.id] :][:1]
            yield from (f"x = 1 # {one.value}" for one in behind if isinstance(one, ast.Constant))


def messages_of(source: str, place: str) -> Iterator[Message]:
    """The messages of one file. Raises NotWholeError."""
    tree = ast.parse(source)
    called = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module in MODULES
        for alias in node.names
    } & (SAID | {COUNTED})
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in called:
            texts = [_text(one, place) for one in node.args[: 2 if node.func.id == COUNTED else 1]]
            sense = next((_text(k.value, place) for k in node.keywords if k.arg == "sense"), "")
            yield Message(texts[0], "".join(texts[1:]), sense, (place,))


def _text(node: ast.expr, place: str) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    raise NotWholeError(f"{place}, line {node.lineno}: a message must stand there as one text")


def fields_of(text: str) -> list[str]:
    """The fields of a message with how each is written, "turn:.1f"."""
    return sorted(f"{name}:{spec}" for _, name, spec, _ in string.Formatter().parse(text) if name is not None)


def table(language: str) -> Mapping[str, tuple[str, ...]]:
    """What is translated."""
    from sim.telling.language import read_po

    path = TABLES / f"{language}.po"
    return read_po(path.read_text(encoding="utf-8")) if path.exists() else {}


def faults(language: str, said: Mapping[str, Message]) -> Iterator[str]:
    """What is missing in a language, has other fields than the English, or is said no more."""
    from sim.telling.language import PLURALS

    there = table(language)
    forms = len({PLURALS[language](n) for n in range(200)})
    for key, message in said.items():
        if key not in there:
            yield f"missing: {message.text}"
            continue
        if len(there[key]) != (forms if message.many else 1):
            yield f"{len(there[key])} forms: {message.text}"
        wanted = {tuple(fields_of(message.text)), tuple(fields_of(message.many or message.text))}
        for form in there[key]:
            if tuple(fields_of(form)) not in wanted:
                yield f"other fields: {message.text}  ->  {form}"
    for key in there:
        if key not in said:
            yield f"said no more: {key}"


def written(language: str, said: Mapping[str, Message], there: Mapping[str, tuple[str, ...]]) -> str:
    """The PO file of a language."""
    from sim.telling.language import PLURALS

    forms = len({PLURALS[language](n) for n in range(200)})
    head = (
        f"# {NAMES[language]}. It awaits a native instructor's reading.",
        'msgid ""',
        'msgstr ""',
        f'"Language: {language}\\n"',
        '"MIME-Version: 1.0\\n"',
        '"Content-Type: text/plain; charset=UTF-8\\n"',
        '"Content-Transfer-Encoding: 8bit\\n"',
        f'"Plural-Forms: {FORMS[language]}\\n"',
    )
    entries = ["\n".join(head)]
    for key, message in said.items():
        now = there.get(key, ())
        lines = [f"#: {place}" for place in message.places]
        if "{" in message.text:
            lines.append("#, python-brace-format")
        if message.sense:
            lines.append(f"msgctxt {_quoted(message.sense)}")
        lines.append(f"msgid {_quoted(message.text)}")
        if message.many:
            padded = (*now, *[""] * forms)[:forms]
            lines.append(f"msgid_plural {_quoted(message.many)}")
            lines += [f"msgstr[{i}] {_quoted(form)}" for i, form in enumerate(padded)]
        else:
            lines.append(f"msgstr {_quoted(now[0] if now else '')}")
        entries.append("\n".join(lines))
    return "\n\n".join(entries) + "\n"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def main(words: list[str]) -> int:
    sys.path.insert(0, str(ROOT))
    said = messages()
    if words == ["--tidy"]:
        for language in NAMES:
            text = written(language, said, table(language))
            (TABLES / f"{language}.po").write_text(text, encoding="utf-8")
    found = [f"{language}: {fault}" for language in NAMES for fault in faults(language, said)]
    print("\n".join([*found, f"{len(said)} messages, {len(found)} faults"]))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
