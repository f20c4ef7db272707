"""The table of messages: whole in every language, and nothing told outside it in the rooms that use it."""

import ast
import importlib.util
import re
import sys
from functools import cache
from pathlib import Path

import pytest

from sim.answers.formats import FORMATS
from sim.commands.help_pages import BEGIN
from sim.telling.language import LANGUAGES
from sim.telling.record import words_of

ROOT = Path(__file__).parents[3]
OTHERS = [one for one in LANGUAGES if one != "en"]
SAID = {"say", "say_count", "note", "word", "quantity", "amount", "number", "unit_name", "in_unit", "Told", "get"}
SHOWN = {
    "rows", "bullets", "wrapped", "Word", "set_xlabel", "set_ylabel", "set_title", "annotate", "only_words", "named",
    "add_task",
}  # fmt: skip
# files that tell, of the rooms whose words are in the table
TELLING = [
    *(f"settle/{name}.py" for name in ("text", "uncertain_text", "afloat/text", "afloat/words", "afloat/panel")),
    *(f"settle/{name}.py" for name in ("drawn/settled", "drawn/picture", "afloat/picture")),
    "why/text.py", "why/chart.py", "posture/told.py",
    *(f"fit/told/{name}.py" for name in ("ashore", "people", "set_up", "sweep", "text")),
    *(f"fit/drawn/{name}.py" for name in ("drawing", "layout", "people_map", "plate_inset", "seen", "sweep_chart")),
    *(f"fit/demands/{name}.py" for name in ("cylinder_bottoms", "hand_on_plate", "looks_ahead", "plate_top")),
    *(f"fit/demands/{name}.py" for name in ("seen_attitude", "shoulder_straps", "valve_reach", "waist_strap")),
    *(f"later/{name}.py" for name in ("text", "chart", "empty_text", "empty_chart")),
    *(f"seen/{name}.py" for name in ("text", "words", "chart")),
    "compare/text.py", "compare/picture.py", "calibrate/text.py", "calibrate/chart.py",
    *(f"study/{name}.py" for name in ("text", "report", "ranking_chart", "levels_chart", "spread_chart")),
    *(f"weigh/{name}.py" for name in ("text", "waters_text", "surface_text", "failures_text", "chart")),
    *(f"change/{name}.py" for name in ("text", "chart", "costs")),
    "sheet/overview.py", "sheet/pictures.py", "sheet/template_words.py", "sheet/words.py",
    "model/page.py", "model/view.py", "model/parts.py",
    *(f"plate/{name}.py" for name in ("text", "checks", "fixed")),
    *(f"plate/drawn/{name}.py" for name in ("end_view", "flat_view", "marks", "picture", "sheet", "tiles")),
    *(f"check_bench/{name}.py" for name in ("text", "sheet_words", "sheet_pages")),
    *(f"../commands/{name}.py" for name in ("catalogue", "new", "new_questions", "interview", "help_pages")),
    *(f"../commands/{name}.py" for name in ("command_line", "reader", "error_words")),
    "plate/dimension_words.py", "plate/suits/text.py", "plate/suits/told.py", "plate/suits/picture.py",
    *(f"plate/divers/{name}.py" for name in ("text", "words", "picture")),
    *(f"plate/change/{name}.py" for name in ("text", "picture")),
    *(f"plate/design/{name}.py" for name in ("text", "picture")),
    *(f"plate/hold/{name}.py" for name in ("picture", "place", "text", "told", "ways")),
    *(f"../commands/{name}.py" for name in (
        "calibrate", "change", "check_bench", "compare", "demo", "empty", "evidence", "film", "fit", "fit_people",
        "fit_sweep", "later", "listing", "looking", "model", "open", "plate", "plate_design", "plate_divers",
        "plate_hold", "plate_people", "pool_sheet", "posture", "seen", "settle", "sheet", "study", "watching",
        "weigh", "whole_file", "why",
    )),
]  # fmt: skip
# places of the body and kinds of limits, by which something is looked up
KEYS = {
    "left hip side", "natural waist back", "iliac crest back", "turn of the upper arm", "length of the arm",
    "what is in the way", "left acromion", "right acromion", "past the vertical", "to the side",
    "5 deg head-up", "15 deg head-up",
}  # fmt: skip
WORDS = re.compile(r"[A-Za-z]{2,}")


def _script():
    spec = importlib.util.spec_from_file_location("messages_of_scripts", ROOT / "scripts" / "messages.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # where its records look for themselves
    spec.loader.exec_module(module)
    return module


messages = _script()


@cache
def every_message():
    """All that is said, read off the sources once."""
    return messages.messages()


@pytest.mark.parametrize("code", OTHERS)
def test_a_language_is_whole_with_the_same_fields_and_its_own_number_of_forms(code):
    said = every_message()
    assert len(said) > 1000
    assert list(messages.faults(code, said)) == []


@pytest.mark.parametrize("code", OTHERS)
def test_no_translation_waits_for_a_second_look_and_spaces_are_as_in_english(code):
    text = (messages.TABLES / f"{code}.po").read_text(encoding="utf-8")
    assert "fuzzy" not in text
    said, there = every_message(), messages.table(code)
    outer = re.compile(r"^(\s*).*?(\s*)$", re.DOTALL)
    wrong = [key for key, m in said.items() if outer.sub(r"\1|\2", there[key][0]) != outer.sub(r"\1|\2", m.text)]
    assert wrong == []


@pytest.mark.parametrize("code", OTHERS)
def test_a_translation_is_one(code):
    """Long sentences that stand there in English would be forgotten ones."""
    said, there = every_message(), messages.table(code)
    same = [m.text for key, m in said.items() if len(WORDS.findall(re.sub(r"{.*?}", "", m.text))) > 3
            and there[key][0] == m.text]  # fmt: skip
    assert same == []


def test_what_is_put_together_as_it_is_said_is_refused():
    source = "from sim.telling.language import say\nsay(f'{a} kg')\n"
    with pytest.raises(messages.NotWholeError):
        list(messages.messages_of(source, "x.py"))


@pytest.mark.parametrize("name", TELLING)
def test_no_words_stand_outside_the_table(name):
    known = {m.text for m in every_message().values()} | KEYS | set(BEGIN)
    found = list(outside((ROOT / "sim" / "answers" / name).read_text(encoding="utf-8"), known))
    assert found == []


def test_words_outside_the_table_are_seen():
    """What the search above must not overlook."""
    source = (
        '"""Of the file."""\n'
        "def told(a):\n"
        '    """Of the function."""\n'
        '    yield "a word", say("in the table")\n'
        '    axes.set_xlabel("depth")\n'
        '    rows("What follows", a)\n'
        '    x = f"{a:.1f} too heavy"\n'
        '    bar.add_task("Drawing"), track(work, "Sweeping")\n'
        '    y = "three words here"\n'
        '    z = a["two words"]\n'
        '    raise ValueError("for programmers, not readers")\n'
    )
    assert sorted(line for line, _ in outside(source, set())) == [4, 5, 6, 7, 8, 8, 9]


def test_what_every_field_means_is_in_the_table():
    known = set(every_message())
    for kind in FORMATS.values():
        texts = [text for text in words_of(kind) if " " in text or "." not in text]
        assert [text for text in texts if f"field\4{text}" not in known] == []


# errors that are a reader's own: of a file, of a word on the command line, of a diver that cannot be built
BLAMED = {
    "Problem", "UsageError", "InnerError", "UnbuildableError", "TypedError", "AxisError", "FolderError", "CrewError",
    "NarrowSuitError", "UnvariedError", "NotInstalledError", "NoElementsError", "NoEncoderError", "NoTypesetterError",
    "MissingFontError", "WorkersLostError", "RefusedError",
}  # fmt: skip


def unknown_errors(source: str, known: set[str]):
    """Sentences of a file that blame a reader's input and are no messages."""
    tree = ast.parse(source)
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    for node in ast.walk(tree):
        text = messages.numbered(node)
        if text is None or isinstance(parents[node], ast.JoinedStr | ast.FormattedValue) or text in known:
            continue
        if len(WORDS.findall(text)) > 2 and _blames(node, parents):
            yield text


def _blames(node: ast.AST, parents: dict[ast.AST, ast.AST]) -> bool:
    while node in parents:
        node = parents[node]
        if isinstance(node, ast.Call):
            if _name(node) in BLAMED:
                return True
            if _name(node) in SAID:
                return False
    return False


@pytest.mark.parametrize("package", ["scenarios", "sim", "meshes"])
def test_no_error_that_a_reader_caused_stands_outside_the_table(package):
    known = {m.text for m in every_message().values()}
    found = {
        path.relative_to(ROOT).as_posix(): texts
        for path in sorted((ROOT / package).rglob("*.py"))
        if (texts := list(unknown_errors(path.read_text(encoding="utf-8"), known)))
    }
    assert found == {}


def test_an_error_outside_the_table_is_seen():
    source = (
        'raise ScenarioError([Problem(name, f"{a} is no key of it", "plate")])\nraise UsageError(note("b c d e"))\n'
    )
    assert list(unknown_errors(source, set())) == ["{0} is no key of it"]
    assert list(unknown_errors(source, {"{0} is no key of it"})) == []


def outside(source: str, known: set[str]):
    """Lines and texts of a file that reach the reader and are no messages."""
    tree = ast.parse(source)
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    for node in ast.walk(tree):
        text = _text(node)
        if text is None or isinstance(parents[node], ast.JoinedStr | ast.Expr | ast.FormattedValue):
            continue
        if {text.strip(), messages.numbered(node)} & known or text.endswith("]") or not WORDS.search(text):
            continue
        if not (_shown(node, parents) or _sentence(node, text)) or _exempt(node, parents):
            continue
        yield node.lineno, text


def _text(node: ast.AST) -> str | None:
    if isinstance(node, ast.JoinedStr):
        return "".join(v.value if isinstance(v, ast.Constant) else "{}" for v in node.values)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def _sentence(node: ast.AST, text: str) -> bool:
    """Whether it is put together with words in it, or has three words and more."""
    if isinstance(node, ast.JoinedStr):
        return " " in text and any(len(word) > 3 for word in WORDS.findall(text))
    return sum(bool(WORDS.search(word)) for word in text.split()) > 2


def _shown(node: ast.AST, parents: dict[ast.AST, ast.AST]) -> bool:
    """Whether it is handed to what writes or draws, or yielded as the label of a row."""
    parent = parents[node]
    if isinstance(parent, ast.Call) and node in parent.args:
        return _name(parent) in SHOWN if node is parent.args[0] else _name(parent) == "track"
    return isinstance(parent, ast.Tuple) and isinstance(parents[parent], ast.Yield) and parent.elts[0] is node


def _exempt(node: ast.AST, parents: dict[ast.AST, ast.AST]) -> bool:
    """Whether it is said by the table, raised, an annotation, a key, or part of the name of a file."""
    while node in parents:
        above = parents[node]
        if isinstance(above, ast.Call) and _name(above) in SAID:
            return True
        if isinstance(above, ast.Raise | ast.Subscript | ast.arguments):
            return True
        if isinstance(above, ast.Call) and _name(above) in {"_names", "Outcome"}:
            return True
        if isinstance(above, ast.AnnAssign) and above.annotation is node:
            return True
        node = above
    return False


def _name(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")
