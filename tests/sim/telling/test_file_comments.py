"""Comments of files written for people: told in each language, with nothing changed that programs read."""

import re
import tomllib
from itertools import product

import pytest

from scenarios.catalogue import entries
from scenarios.demos import demo_files
from scenarios.new_scenario import NONE, NewScenario, new_scenario_text
from scenarios.reading import scenario_of
from sim.answers.check_bench.template import TEMPLATE
from sim.telling.file_comments import messages_in, told_file
from sim.telling.language import LANGUAGES, spoken

OTHERS = [one for one in LANGUAGES if one != "en"]
PEOPLE = [
    ("female", "166 cm", "58 kg", ()), ("male", "6 ft 3 in", "198 lb", ()),
    ("female", "5'5\"", "57 +- 0.5 kg", ("mass",)), ("male", "180 cm", "80 kg", ("sex", "height", "mass")),
]  # fmt: skip
TABLE_OR_KEY = re.compile(r"^# (\[+[\w.]+\]+|[\w.]+ = .*?)(?= +# |$)")


def new_files():
    """Invented divers in every suit, on one cylinder and two, with lead and without."""
    for number, (suit, count) in enumerate(product((*entries("suit"), NONE), ("one", "two"))):
        sex, height, mass, invented = PEOPLE[number % len(PEOPLE)]
        yield new_scenario_text(NewScenario(
            sex, height, mass, "24 %" if number % 3 else "", number % 5 == 0, suit, count=count,
            cylinders=list(entries("cylinders"))[number % 13], plate=list(entries("plate"))[number % 6],
            lead="4.5 kg" if number % 2 else "", invented=invented,
        ))  # fmt: skip


def as_read(text):
    """What programs read of a file: all but the words of its title."""
    tables = tomllib.loads(text)
    return {key: value for key, value in tables.items() if key != "title"}, "title" in tables


def offered(text):
    """Keys and tables that comments offer."""
    return [found[1] for line in text.split("\n") if (found := TABLE_OR_KEY.match(line))]


@pytest.mark.parametrize("language", OTHERS)
def test_a_new_file_says_the_same_scenario_in_every_language(language):
    for english in new_files():
        with spoken(language):
            told = told_file(english)
        assert as_read(told) == as_read(english)
        assert offered(told) == offered(english)
        untitled = [re.sub(r"^title = .*$", "", text, flags=re.MULTILINE) for text in (told, english)]
        assert scenario_of(tomllib.loads(untitled[0])) == scenario_of(tomllib.loads(untitled[1]))
        assert not set(messages_in(told)) & set(messages_in(english))


@pytest.mark.parametrize("language", OTHERS)
def test_demos_and_the_sheet_of_measurements_keep_what_programs_read(language):
    for english in (*(file.read_text(encoding="utf-8") for file in demo_files()), TEMPLATE):
        with spoken(language):
            told = told_file(english)
        assert as_read(told) == as_read(english)
        assert offered(told) == offered(english)
        assert not set(messages_in(told)) & set(messages_in(english))
        assert max(len(line) for line in told.split("\n") if line.startswith("# ") and " = " not in line) <= 120


def test_english_is_as_it_was_written():
    for english in new_files():
        assert told_file(english) == english


def test_a_sign_of_a_comment_inside_a_text_begins_none():
    text = 'name = "a # without shoes \\" # without clothes" # without shoes\nsee = "# without shoes"\n'
    with spoken("xx", messages={"without shoes": ("barefoot",), "without clothes": ("bare",)}):
        assert told_file(text) == text.removesuffix('# without shoes\nsee = "# without shoes"\n') + (
            '# barefoot\nsee = "# without shoes"\n'
        )


def test_sentences_go_on_over_lines_and_stop_at_a_command():
    text = "# It hangs flat. Nobody\n# turns it.\n#     hangflat settle FILE      what turns it\nkind = 1\n"
    assert list(messages_in(text)) == ["It hangs flat.", "Nobody turns it.", "what turns it"]
    table = {"It hangs flat.": ("Flach.",), "Nobody turns it.": ("Ruhig.",), "what turns it": ("was dreht",)}
    with spoken("xx", messages=table):
        assert told_file(text) == "# Flach. Ruhig.\n#     hangflat settle FILE      was dreht\nkind = 1\n"
