"""File names told and looked for alike in every system encoding."""

import os
import subprocess
import sys
from pathlib import Path

from scenarios.file_names import name_of, place_named

ROOT = Path(__file__).parents[2]
ASKED = """
import sys
from scenarios.file_names import name_of, place_named
place = place_named("tauch\\u00e9r.toml")
sys.stdout.buffer.write(f"{place.is_file()} {name_of(sys.argv[1])}".encode("utf-8"))
"""


def test_a_name_goes_there_and_back():
    assert name_of(place_named("tauchér.toml")) == "tauchér.toml"
    assert name_of("folder/a\nb.toml") == "a?b.toml"


def test_where_the_system_knows_ascii_alone_names_are_the_same(tmp_path):
    (tmp_path / "tauchér.toml").write_text("", encoding="utf-8")
    plain = {**os.environ, "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONPATH": str(ROOT)}
    words = [sys.executable, "-c", ASKED, "tauchér.toml"]
    found = subprocess.run(words, cwd=tmp_path, env=plain, capture_output=True, check=True)
    assert found.stdout.decode("utf-8") == "True tauchér.toml"
