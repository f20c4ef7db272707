"""An interrupt is heard, also where it cannot be raised at once."""

import ctypes
import signal
import time

import pytest

from sim.commands.ended import EndedError, heard


@pytest.mark.usefixtures("usual_signals")
@pytest.mark.parametrize("name", ["SIGHUP", "SIGINT"])
def test_an_interrupt_in_a_callback_is_not_lost(name, capsys):
    """As while code is compiled: what the compiler calls back cannot hand an exception on."""
    number = getattr(signal, name, None)
    if number is None:
        pytest.skip(f"no {name} here")
    called = ctypes.CFUNCTYPE(None)(lambda: signal.raise_signal(number))

    def compiling():
        with heard():
            called()
            time.sleep(10.0)

    with pytest.raises(KeyboardInterrupt) as ended:
        compiling()
    assert isinstance(ended.value, EndedError) == (name != "SIGINT")
    assert capsys.readouterr().err == ""


def test_what_else_is_lost_is_told_as_before(monkeypatch):
    told = []
    monkeypatch.setattr("sys.unraisablehook", lambda lost: told.append(repr(lost.exc_value)))

    def fails():
        raise ValueError("not an interrupt")

    with heard():
        ctypes.CFUNCTYPE(None)(fails)()
    assert told == ["ValueError('not an interrupt')"]
