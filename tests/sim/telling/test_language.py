import json
from pathlib import Path

import pytest
from babel import Locale
from babel.messages.pofile import read_po as babel_read_po
from babel.numbers import format_decimal

from sim.said import amount, brief, joined, known, note
from sim.telling import language
from sim.telling.imperial import IMPERIAL
from sim.telling.language import (
    LANGUAGES,
    PLURALS,
    messages_of,
    number,
    quantity,
    say,
    say_count,
    spoken,
    told,
    whole,
)

TABLES = Path(language.__file__).parent / "po"
OTHERS = [one for one in LANGUAGES if one != "en"]


def test_english_is_what_stands_in_the_source():
    assert say("No table holds this.") == "No table holds this."
    assert say("{x:.1f} of {y}", x=1.25, y=3) == "1.2 of 3"
    assert quantity(1.5, "kg", 2) == "1.50 kg"
    assert [say_count("{n} degree", "{n} degrees", n) for n in (0, 1, 2)] == ["0 degrees", "1 degree", "2 degrees"]


def test_a_message_is_looked_up_and_its_numbers_get_a_comma():
    table = {"{x:.1f} kg of {what}": ("{what}: {x:.1f} kg",)}
    with spoken("de", messages=table):
        assert say("{x:.1f} kg of {what}", x=1.25, what="Blei 1.5") == "Blei 1.5: 1,2 kg"
    assert say("{x:.1f} kg of {what}", x=1.25, what="lead") == "1.2 kg of lead"


def test_one_word_can_have_two_senses():
    with spoken("de", messages={"left": ("links",), "rest\4left": ("übrig",)}):
        assert (say("left"), say("left", "rest")) == ("links", "übrig")


@pytest.mark.parametrize("code", LANGUAGES)
def test_plural_rules_are_those_of_the_cldr(code):
    rule = Locale(code).plural_form
    order = ["one", "other"] if code != "pl" else ["one", "few", "many"]
    for n in range(250):
        category = rule(n)
        expected = order.index(category) if category in order else len(order) - 1
        assert PLURALS[code](n) == expected


@pytest.mark.parametrize("code", LANGUAGES)
def test_the_decimal_sign_is_that_of_the_cldr(code):
    with spoken(code):
        assert number(-12.347, 2) == format_decimal(-12.347, "0.00", locale=code)
        assert say("{x:.2f}", x=-12.347) == format_decimal(-12.347, "0.00", locale=code)


@pytest.mark.parametrize("code", LANGUAGES)
def test_thousands_are_parted_as_the_cldr_has_it(code):
    with spoken(code):
        for count in (0, 999, 1000, 9999, 10_000, -1_234_567):
            assert whole(count) == format_decimal(count, locale=code)


@pytest.mark.parametrize("code", OTHERS)
def test_another_reader_finds_the_same_messages(code):
    with (TABLES / f"{code}.po").open("rb") as file:
        catalog = babel_read_po(file, locale=code, abort_invalid=True)
    assert len({PLURALS[code](n) for n in range(250)}) == catalog.num_plurals
    expected = {}
    for message in catalog:
        if message.id and message.string:
            key = message.id[0] if isinstance(message.id, tuple) else message.id
            forms = message.string if isinstance(message.string, tuple) else (message.string,)
            expected[f"{message.context}\4{key}" if message.context else key] = forms
    assert messages_of(code) == expected


@pytest.mark.parametrize("unit", IMPERIAL)
def test_imperial_units_are_as_large_as_another_library_has_them(unit):
    pint = pytest.importorskip("pint")
    registry = pint.UnitRegistry()
    names = {"lbf": "force_pound", "oz": "ounce", "cu ft": "foot**3", "sq in": "inch**2", "psi": "psi"}

    def known(text):
        for ours, theirs in names.items():
            text = text.replace(ours, theirs)
        return text.replace("force_pound ft", "force_pound * ft").replace("N m", "N * m")

    theirs = registry.Quantity(1.0, known(IMPERIAL[unit].name)).to(known(unit)).magnitude
    assert IMPERIAL[unit].size == pytest.approx(theirs, rel=1e-9)  # beyond what a factor of seven digits says


def test_what_is_made_below_is_english_and_metric_and_told_in_the_readers():
    made = note("The wing holds {gas}, {share:.1f} of it.", gas=amount(28.316846592, "l", 1), share=0.5)
    assert made == "The wing holds 28.3 l, 0.5 of it."
    with spoken("fr", "imperial", {made.pattern: ("L'aile contient {gas}, soit {share:.1f}.",)}):
        assert told(made) == "L'aile contient 1,00 cu ft, soit 0,5."
        assert json.dumps({"note": made}) == '{"note": "The wing holds 28.3 l, 0.5 of it."}'
        assert told("neither made nor known") == "neither made nor known"
    assert told(made) == made


def test_nothing_of_a_language_is_left_when_its_reader_has_gone():
    with pytest.raises(RuntimeError), spoken("pl", "imperial"):
        raise RuntimeError
    assert language.reader().plain


def test_texts_in_a_row_and_words_kept_plain_are_told_each_as_it_was_made():
    made = note("It needs {things}.", things=joined([known("lead"), note("{x:.1f} l of gas", x=1.5)]))
    assert made == "It needs lead, 1.5 l of gas."
    with spoken("de", messages={"It needs {things}.": ("Es braucht {things}.",), "lead": ("Blei",)}):
        assert told(made) == "Es braucht Blei, 1,5 l of gas."


@pytest.mark.parametrize(("words", "said"), [("de", "1,5 l; neutral"), ("fr", "1,5 l ; neutre")])
def test_texts_set_apart_have_the_languages_own_semicolon(words, said):
    """French sets a blank before it (Lexique des règles typographiques de l'Imprimerie nationale)."""
    with spoken(words):
        parts = (language.quantity(1.5, "l", 1), said.split()[-1])
        assert language.set_apart(parts) == told(joined(parts, "; ")) == said


def test_a_true_minus_is_kept_in_other_units():
    assert amount(-4.0, "cm", 1, dash=True) == "\N{MINUS SIGN}4.0 cm"
    with spoken("fr", "imperial"):
        assert told(amount(-2.54, "cm", 1, dash=True)) == "\N{MINUS SIGN}1,00 in"


@pytest.mark.parametrize(
    ("value", "unit", "plain", "imperial"),
    [
        (1.0, "kg", "1 kg", "2.2 lb"),
        (0.5, "kg", "0.5 kg", "1.1 lb"),
        (2.5, "cm", "2.5 cm", "0.98 in"),
        (1.0, "l", "1 l", "0.035 cu ft"),
        (40.0, "m", "40 m", "131 ft"),
    ],
)
def test_a_round_amount_is_told_with_the_digits_that_say_it(value, unit, plain, imperial):
    made = brief(value, unit)
    assert made == language.told(made) == plain
    with language.spoken("en", "imperial"):
        assert language.told(made) == imperial
