import subprocess
import sys

import pytest

from sim.commands.console import UsageError
from sim.commands.reader import asked, language_of


def test_both_options_are_taken_wherever_they_stand():
    assert asked(["--language", "pl", "settle", "f.toml", "--units=imperial"], {}) == (
        ["settle", "f.toml"], "pl", "imperial",
    )  # fmt: skip
    assert asked(["settle", "--", "--language"], {}) == (["settle", "--", "--language"], "en", "metric")


@pytest.mark.parametrize(
    ("environment", "language"),
    [
        ({}, "en"),
        ({"LANG": "de_AT.UTF-8"}, "de"),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": "fr_FR"}, "fr"),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": "C.UTF-8", "LANGUAGE": "pl"}, "en"),
        ({"LANG": "sv_SE.UTF-8", "LANGUAGE": "nb:pl_PL:de"}, "pl"),
        ({"LANG": "sv_SE.UTF-8"}, "en"),
    ],
)
def test_the_locale_says_which_language(environment, language):
    assert language_of(environment) == language


@pytest.mark.parametrize("words", [["--language", "xx"], ["--language"], ["--units=furlongs"]])
def test_what_there_is_none_of_is_refused(words):
    with pytest.raises(UsageError, match=r"must be .* or "):
        asked(words, {})


def test_help_reads_no_table_of_another_language():
    code = (
        "import sys; from sim.commands.main import main; from sim.telling.language import messages_of;"
        "assert main(['--help']) == 0; assert messages_of.cache_info().currsize <= 1, 'read';"
        "assert 'babel' not in sys.modules"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert run.returncode == 0, run.stderr
