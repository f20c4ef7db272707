import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

# One rigid part whose CB lies 5 cm nearer the head than its CM, and nothing else: neutral, turned head-up when flat
# with 1000 kg/m^3 x 10 m/s^2 x 0.1 m^3 x 0.05 m = 50 N m, at rest with CB straight above CM, thus upright.
NEUTRAL_FLOAT = """\
format = "parts/1"
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
held = "cm"
[[part]]
name = "float"
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [0.05, 0.0, 0.0]
inertia = [[10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]]
"""


@pytest.fixture
def usual_signals() -> Iterator[None]:
    """Interrupts handled as in a program just started: whoever runs the tests may ignore them (nohup, a worker)."""
    usual = {"SIGINT": signal.default_int_handler, "SIGTERM": signal.SIG_DFL, "SIGHUP": signal.SIG_DFL}
    numbers = {getattr(signal, name): handler for name, handler in usual.items() if hasattr(signal, name)}
    before = {number: signal.signal(number, handler) for number, handler in numbers.items()}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


@pytest.fixture
def parts_file(tmp_path: Path) -> Path:
    file = tmp_path / "float.toml"
    file.write_text(NEUTRAL_FLOAT, encoding="utf-8")
    return file
