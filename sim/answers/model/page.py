"""One HTML file with the diver in it, to turn and to let go: all inside, nothing is asked of any other machine."""

from __future__ import annotations

import html
import json
from collections.abc import Sequence
from dataclasses import asdict
from importlib.resources import files
from pathlib import Path

from sim.answers.model.motion import Motion
from sim.answers.model.parts import ShownPart
from sim.answers.model.view import view_of
from sim.answers.settle.report import SettleReport
from sim.drawing.scene import HangingScene
from sim.telling.language import comma, in_unit, reader, say, unit_name


def write_page(
    report: SettleReport, scene: HangingScene, parts: Sequence[ShownPart], motion: Motion | None, path: Path
) -> None:
    """Write the page for a report, its scene and what of it is shown."""
    view = view_of(report, scene, parts, motion, page_words())
    data = json.dumps(asdict(view), ensure_ascii=False, allow_nan=False)
    web = files("sim.drawing.web")
    page = web.joinpath("page.html").read_text(encoding="utf-8")
    for mark, text in (
        ("@LANGUAGE@", reader().language),
        ("@TITLE@", html.escape(view.title)),
        ("@DIVER@", html.escape(say("The diver in three dimensions"))),
        ("@BESIDE@", html.escape(say("What is shown, and numbers"))),
        ("@LOOK@", html.escape(say("Look from"))),
        ("@SHOWN@", html.escape(say("Shown"))),
        ("@TURNS@", html.escape(say("What turns the diver, held flat"))),
        ("@AFTER@", html.escape(say("after stopping flat"))),
        ("@NO_SCRIPT@", html.escape(say("This page draws with JavaScript, which is switched off here."))),
        ("@STYLE@", web.joinpath("page.css").read_text(encoding="utf-8")),
        ("@VIEWER@", web.joinpath("viewer.min.js").read_text(encoding="utf-8")),
        ("@PAGE@", web.joinpath("page.js").read_text(encoding="utf-8")),
        ("@TOLD@", data.replace("<", "\\u003c")),  # so that no title can end the script
    ):
        page = page.replace(mark, text, 1)
    path.write_text(page, encoding="utf-8", newline="\n")


def page_words() -> dict[str, str | float]:
    """What the page's own script says, with the fields that it fills in; what a moment is divided by."""
    return {
        "let_go": say("Let go"),
        "hold": say("Hold"),
        "no_webgl": say(
            "This browser cannot draw in three dimensions (no WebGL). The numbers beside it hold all the same."
        ),
        "keys": say("Arrow keys turn the view, plus and minus zoom."),
        "side": say("Side"),
        "front": say("Front"),
        "above": say("Above"),
        "corner": say("Three-quarter"),
        "level": say("level"),
        "on_back": say(", on the back"),
        "balance": say("in balance"),
        "angle_up": say("{shown}° head-up"),
        "angle_down": say("{shown}° head-down"),
        "moment_up": say("{size} head-up"),
        "moment_down": say("{size} head-down"),
        "comma": comma("."),
        "moment_unit": unit_name("N m"),
        "moment_size": 1.0 / in_unit(1.0, "N m"),
    }
