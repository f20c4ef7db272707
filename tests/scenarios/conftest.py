"""What the tests of this folder share: a person, and a way to read a text as a file."""

import pytest

from scenarios.errors import ScenarioError
from scenarios.reading import read_file

PERSON = '[diver]\nsex = "female"\nheight = "166 cm"\nmass = "58 kg"\n'


@pytest.fixture
def person() -> str:
    """The shortest scenario there is; four lines."""
    return PERSON


@pytest.fixture
def complaint(tmp_path):
    """Read a text or bytes as a file that must be refused; the error's text with the folder left out."""

    def read(content: str | bytes, settings: tuple[str, ...] = (), name: str = "diver.toml") -> str:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        with pytest.raises(ScenarioError) as refused:
            read_file(path, settings)
        return str(refused.value).replace(f"{tmp_path}/", "").replace(f"{tmp_path}\\", "")

    return read


@pytest.fixture
def load(tmp_path):
    """Read a text or bytes as a file that is in order."""

    def read(content: str | bytes, settings: tuple[str, ...] = ()):
        path = tmp_path / "diver.toml"
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return read_file(path, settings)

    return read
