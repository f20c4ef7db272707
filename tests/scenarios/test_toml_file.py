"""Everything that is no sound TOML file ends in one message, and quickly."""

import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scenarios.errors import ScenarioError
from scenarios.toml_file import LARGEST, parse_toml, read_toml


def test_byte_order_mark_and_windows_line_ends_are_accepted(load, person):
    plain = load(person).content
    assert load(b"\xef\xbb\xbf" + person.replace("\n", "\r\n").encode()).content == plain


def test_lines_are_counted_right_with_windows_line_ends(complaint, person):
    text = complaint(person.replace("58 kg", "58 l").replace("\n", "\r\n"))
    assert text.startswith("diver.toml:4: diver.mass: ")
    assert text.endswith('      4 | mass = "58 l"')


CASES = {
    "empty": (b"", "diver.toml: the file is empty"),
    "blank": (b"\n  \r\n\t\n", "diver.toml: the file is empty"),
    "comments": (b"# nothing\n\n# more\n", "diver.toml: the file is empty"),
    "letter": (b"Dear all,\nthe diver is tall\n", "diver.toml:1: this is not TOML"),
    "json": (b'{"diver": {"sex": "female"}}', "diver.toml:1: this is not TOML"),
    "binary": (bytes(range(256)) * 20, "diver.toml:1: there are zero bytes in it"),
    "zero byte": (b'a = "1"\nb = "\0"\n', "diver.toml:2: there are zero bytes in it"),
    "utf-16": ("[diver]".encode("utf-16"), "diver.toml: the file is saved as UTF-16"),
    "latin-1": ('a = "1"\nb = "Größe"\n'.encode("latin-1"), "diver.toml:2: the byte 0xf6 is not UTF-8"),
    "old line ends": (b'[diver]\rsex = "female"\r', "diver.toml:1: a line ends in a carriage return alone"),
    "unquoted": (b"mass = 58 kg # naked\n", 'diver.toml:1: a value with a unit stands in quotes: mass = "58 kg"'),
    "unquoted word": (b"[diver]\nsex = female\n", 'diver.toml:2: text stands in quotes: sex = "female"'),
    "same key twice": (b'mass = "58 kg"\nmass = "59 kg"\n', "diver.toml:2: this key or table stands in the file"),
    "same table twice": (b'[diver]\na = "b"\n[diver]\n', "diver.toml:3: this key or table stands in the file twice"),
    "open string": (b'[diver]\nsex = "female\n', 'diver.toml:2: a quote is missing; write sex = "female"'),
    "other quotes": (
        "mass = „58 kg“\n".encode(),
        'diver.toml:1: these are not the quotes of a plain text file; write mass = "58 kg"',
    ),
    "too large": (b"a" * (LARGEST + 1), "diver.toml: the file is larger than 0.5 MB"),
    "digits": (b"a = " + b"1" * 5000, "diver.toml: the file cannot be read as TOML: it holds a number"),
    "no such date": (b"a = 2024-02-31", "diver.toml"),
    "deep list": (b"a = " + b"[" * (LARGEST // 2), "diver.toml:1: more than 64 brackets"),
    "deep lines": (b"a = " + b"[\n" * (LARGEST // 4), "diver.toml:65: more than 64 brackets"),
    "deep tables": (b"a = " + b"{a=" * (LARGEST // 4), "diver.toml:1: more than 64 brackets"),
    "keys and tables deep": (
        f"{'a.' * 60}a = {{{'a.' * 60}a = 1}}".encode(), "diver.toml: more than 64 tables and lists",
    ),
    "brackets hidden in texts": (b"a = " + b'["]",' * 3000, "diver.toml:1: more than 64 brackets"),
    "long key in a table": (b"a = {a" + b".a" * 150_000 + b" = 1}", "diver.toml:1: a key has more than 64 parts"),
    "zero character": (b'[diver]\nsex = "fe\\u0000male"\n', "diver.toml: a text holds the character of number zero"),
    "endless text": (b'"' + b'\\"' * (LARGEST // 2 - 4) + b"\n", "diver.toml:1: this is not TOML"),
    "endless lines": (b'a = """' + b'\\"""' * (LARGEST // 4 - 4), "diver.toml:1: this is not TOML"),
    "long key": (b"a" + b".a" * (LARGEST // 3) + b" = 1", "diver.toml:1: a key has more than 64 parts"),
    "long header": (b"[a" + b".a" * (LARGEST // 3) + b"]", "diver.toml:1: a key has more than 64 parts"),
}  # fmt: skip


@pytest.mark.parametrize(("content", "says"), CASES.values(), ids=CASES)
def test_refused_with_one_message(complaint, content, says):
    text = complaint(content)
    assert text.startswith(says)
    assert len(text) < 500


def test_a_folder(tmp_path):
    with pytest.raises(ScenarioError, match="this is a folder; give the file inside it"):
        read_toml(tmp_path)


def test_brackets_in_comments_and_texts_are_not_counted(load, person):
    assert load("# from [0 to 1)\n" * 100 + "title = '[[[['\n" * 1 + person).content.title == "[[[["


def test_a_missing_file_and_its_nearest_name(tmp_path):
    (tmp_path / "diver.toml").write_text("a = 1", encoding="utf-8")
    with pytest.raises(ScenarioError, match=r"there is no such file; did you mean .*diver\.toml"):
        read_toml(tmp_path / "divver.toml")
    with pytest.raises(ScenarioError, match=r"there is no such file$"):
        read_toml(tmp_path / "no" / "folder" / "here.toml")


def test_a_path_with_a_zero_byte():
    with pytest.raises(ScenarioError, match="cannot be read"):
        read_toml("a\0b.toml")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes on this system")
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(ScenarioError, match="not an ordinary file"):
        read_toml(tmp_path / "pipe")


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    (tmp_path / "secret.toml").write_text("a = 1", encoding="utf-8")

    def forbidden(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", forbidden)  # an administrator may read any file, so chmod is no test
    with pytest.raises(ScenarioError, match=r"secret.toml: the file may not be read: its permissions forbid it"):
        read_toml(tmp_path / "secret.toml")


@given(st.text(alphabet="[]{}=,.\"#\n a1'\\-", max_size=60))
def test_any_text_is_data_or_refused(text):
    try:
        data = parse_toml(text, "x")
    except ScenarioError:
        return
    assert isinstance(data, dict)
