"""Lines of keys, on texts in which every value names its own line."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from scenarios.toml_lines import key_lines, line_of

HARD = '''\
# a comment with [brackets] = "and more"
top = "@2"
"quoted key" = "@3"   # trailing = comment
dotted.one."two.three" = "@4"
text = """
@5 starts above and holds [x] = "y" and \\""" too
# no comment
"""
after = \'@9\'
raw = \'\'\'
many \\ lines
= [\'\'\'
array = [ # @13
  "@14", # with ] a comment
  ["@15",
   "@16"], { a = "@16", b.c = "@16" },
  { d = ["@17",
    "@18"] },
]
empty = [ ]
[table]
key = "@22"
inline = { x = "@23", "y z" = { deep = "@23" } }
[table.sub]
key = "@25"
[[list]]
key = "@27"
[[list]]
key = "@29"
[list.inner]
key = "@31"
[[list.more]]
key = "@33"
[[list.more]]
key = "@35"
[ spaced . "header" ]
key = "@37"
'''


def _leaves(value, path=()):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _leaves(inner, (*path, index))
    else:
        yield path, value


def test_every_value_is_on_the_line_it_names():
    lines = key_lines(HARD)
    named = [(p, v) for p, v in _leaves(tomllib.loads(HARD)) if v.startswith("@") and v[1:].isdigit()]
    assert len(named) == 21
    assert {path: lines[path] for path, _ in named} == {path: int(value[1:]) for path, value in named}


def test_tables_are_where_their_headers_are():
    lines = key_lines(HARD)
    expected = {
                ("table",): 21, ("table", "sub"): 24, ("list", 0): 26, ("list", 1): 28, ("list", 1, "inner"): 30,
                ("list", 1, "more", 1): 34, ("spaced", "header"): 36, ("array",): 13, ("text",): 5, ("raw",): 10,
    }  # fmt: skip
    assert {path: lines[path] for path in expected} == expected


def test_what_has_no_line_takes_that_of_what_encloses_it():
    lines = key_lines(HARD)
    assert line_of(lines, ("table", "missing")) == 21
    assert line_of(lines, ("list", 1, "missing", "deeper")) == 28
    assert line_of(lines, ("nowhere",)) is None
    assert line_of(lines, ()) is None


@st.composite
def documents(draw):
    """A TOML text of random shape whose every string is the number of its line, given a space to be broken in."""
    text, line = [], 1

    def put(piece):
        nonlocal line
        text.append(piece)
        line += piece.count("\n")

    def value(depth):
        kind = draw(st.integers(0, 3 if depth < 3 else 0))
        if kind <= 1:
            put(draw(st.sampled_from(['"{}"', "'{}'", '"""{}"""', "'''{}'''"])).format(line))
        elif kind == 2:
            put("[" + draw(st.sampled_from(["", "\n", " # ] a = {\n"])))
            for _ in range(draw(st.integers(0, 3))):
                value(depth + 1)
                put("," + draw(st.sampled_from(["", " ", "\n", "# [\n\n"])))
            put("]")
        else:
            put("{")
            for index in range(draw(st.integers(0, 2))):
                put((", " if index else " ") + key(index) + " = ")
                value(depth + 1)
            put(" }")

    def key(index):
        return draw(st.sampled_from(["k{}", '"k = [{}"', "'k.{}'", "k{}.inner", 'k{} . "a b"'])).format(index)

    for index in range(draw(st.integers(0, 4))):
        put(f"{key(index)} = ")
        value(0)
        put(draw(st.sampled_from(["\n", " # x = [\n", "\n\n# c\n"])))
    for table in range(draw(st.integers(0, 4))):
        put(draw(st.sampled_from(["[[many]]\n", "[[ many ]] # [[no]]\n", f"[t{table}.sub]\n", f'["q ]{table}"]\n'])))
        for index in range(draw(st.integers(0, 3))):
            put(f"{key(index)} = ")
            value(0)
            put("\n")
    return "".join(text)


@given(documents())
def test_lines_of_random_documents(text):
    lines = key_lines(text)
    for path, value in _leaves(tomllib.loads(text)):
        assert lines[path] == int(value)
