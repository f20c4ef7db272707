"""``hangflat open``: the bench in the browser."""

from __future__ import annotations

import socket
from pathlib import Path

from sim.commands.console import say


def open(
    file: Path | None = None,
    /,
    *,
    address_only: bool = False,
) -> None:
    """Set a diver up by hand on a local page, and see every answer at once.

    Parameters
    ----------
    file
        Scenario file (TOML); a new one is written where there is none (default: diver.toml).
    address_only
        Say where the page is, and open no browser.
    """
    place = file or Path("diver.toml")
    import uvicorn

    from sim.page.server import Bench, application
    from sim.page.set_up import opened

    if not place.exists():
        _written_new(place)
    set_up, text = opened(place)
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen()
    bench = Bench(place, text, dict(set_up.document), listening.getsockname()[1])
    server = uvicorn.Server(uvicorn.Config(application(bench), log_level="error", lifespan="off"))
    say(f"The bench is at {bench.address}\nIt holds {place}. Ctrl-C ends it.")
    if not address_only:
        from webbrowser import get

        get().open_new_tab(bench.address)
    try:
        server.run(sockets=[listening])
    finally:
        bench.close()


def _written_new(place: Path) -> None:
    from scenarios.new_scenario import NewScenario, new_scenario_text
    from sim.commands.whole_file import written_whole

    with written_whole(place, (".toml",)) as draft:
        person = NewScenario("female", "168 cm", "64 kg", invented=("sex", "height", "mass"))
        draft.write_text(new_scenario_text(person), encoding="utf-8", newline="\n")
