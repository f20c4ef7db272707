"""The page's own words in four languages: none is missing, none has other fields, none is left over."""

from __future__ import annotations

import re
import string

import pytest

from sim.page.form import form
from sim.page.outputs import outputs
from sim.page.words import WORDS, page_table, page_words, worded
from sim.telling.language import spoken

LANGUAGES = ("de", "fr", "pl")


def fields(text):
    return sorted(name for _, name, _, _ in string.Formatter().parse(text) if name is not None)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_has_its_translation_with_the_same_fields(language):
    table = page_table(language)
    assert {text for text in WORDS.values() if text not in table} == set()
    assert {en for en, (said,) in table.items() if fields(en) != fields(said)} == set()


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_heading_and_label_that_is_shown_at_once_is_translated(language):
    table = page_table(language)
    shown = {group.title for group in form()} | {one.label for group in form() for one in group.fields}
    shown |= {one.label for one in outputs()}
    assert shown - set(table) == set()


def test_the_page_asks_for_no_word_that_is_not_there():
    from importlib.resources import files

    web = files("sim.page.web")
    html = web.joinpath("bench.html").read_text(encoding="utf-8")
    asked = set(re.findall(r'data-(?:say|label)="([^"]+)"', html))
    for script in web.iterdir():
        if script.name.endswith(".js"):
            asked |= set(re.findall(r'\bsay\("([^"]+)"', script.read_text(encoding="utf-8")))
    assert asked - set(WORDS) == set()


def test_a_reader_is_told_in_their_language():
    with spoken("de"):
        assert page_words()["save"] == "Speichern"
        assert worded("no such text") == "no such text"
    assert page_words() == dict(WORDS)
