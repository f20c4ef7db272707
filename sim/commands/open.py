"""``hangflat open``: the bench in the browser."""

from __future__ import annotations

import os
import socket
from pathlib import Path
from typing import Final

from sim.commands.console import UsageError, say
from sim.said import note
from sim.telling.language import told

MOST_AT_ONCE: Final = 100  # connections; a page has one or two
GRACE: Final = 2  # s that a page may still wait for an answer once the program is told to end


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
    place = (file or Path("diver.toml")).absolute()
    import uvicorn

    from sim.page.desk import Desk, OpenFile
    from sim.page.server import application
    from sim.page.shelf import Shelf

    if not place.exists():
        _written_new(place)
    opened, shelf = OpenFile.read(place), Shelf.of_user()
    listening, token = _listening(shelf.address(place))
    port = listening.getsockname()[1]
    desk = Desk(opened, port, shelf=shelf) if token is None else Desk(opened, port, token, shelf)
    desk.take(opened)
    shelf.keep_address(place, port, desk.token)
    config = uvicorn.Config(
        application(desk),
        log_level="error",
        lifespan="off",
        limit_concurrency=MOST_AT_ONCE,
        timeout_graceful_shutdown=GRACE,
    )
    server = uvicorn.Server(config)
    where = note(
        "The bench is at {address}\nIt holds {file}. Ctrl-C ends it.",
        address=desk.address,
        file=str(file or place.name),
    )
    say(told(where))
    if not address_only:
        from webbrowser import open_new_tab

        open_new_tab(desk.address)  # where there is no browser, the address that was said has to do
    try:
        server.run(sockets=[listening])
    finally:
        desk.close()


def _listening(before: tuple[int, str] | None) -> tuple[socket.socket, str | None]:
    """A socket on the loopback address, and the token where the place of before is free: then a page that was left
    open finds the program again."""
    for port, token in ([before] if before else []) + [(0, None)]:
        listening = socket.socket()
        if os.name != "nt":
            listening.setsockopt(
                socket.SOL_SOCKET, socket.SO_REUSEADDR, 1
            )  # connections of before may still be closing
        try:
            listening.bind(("127.0.0.1", port))
            listening.listen()
        except OSError:
            listening.close()
            continue
        return listening, token
    raise UsageError("No port of the loopback address is free; end another program that listens on one.")


def _written_new(place: Path) -> None:
    from scenarios.new_scenario import USUAL_PLATES, NewScenario, new_scenario_text
    from sim.commands.whole_file import written_whole
    from sim.telling.file_comments import told_file

    with written_whole(place, (".toml",)) as draft:
        person = NewScenario(
            "female", "168 cm", "64 kg", plate=USUAL_PLATES["short"][0], invented=("sex", "height", "mass")
        )
        draft.write_text(told_file(new_scenario_text(person)), encoding="utf-8", newline="\n")
