"""What can be written of a set-up: the command line's own outputs, by running that very command on it."""

from __future__ import annotations

import asyncio
import os
import shlex
import sys
import tempfile
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Annotated, Final

from sim.page.answers import ToldIn
from sim.telling.language import reader
from sim.telling.record import Told

LONGEST: Final = 300.0  # s
KINDS: Final = {
    ".png": "image/png", ".svg": "image/svg+xml", ".pdf": "application/pdf", ".html": "text/html",
    ".glb": "model/gltf-binary", ".json": "application/json", ".txt": "text/plain", ".csv": "text/csv",
    ".mp4": "video/mp4", ".gif": "image/gif",
}  # fmt: skip


@dataclass(frozen=True)
class Output:
    """One thing that can be written. words : of the command after the file, NAME standing for what is written"""

    name: Annotated[str, Told("by which it is asked for")]
    label: Annotated[str, Told("what it is")]
    kind: Annotated[str, Told("of file")]
    command: Annotated[str, Told("the command")]
    ending: Annotated[str, Told("of the file that is written")]
    words: Annotated[tuple[str, ...], Told("after the scenario's name; NAME is what is written, none where printed")]


def outputs() -> tuple[Output, ...]:
    """Everything that this program can write of one scenario."""
    return tuple(one for one in _ALL if find_spec(f"sim.commands.{one.command}") is not None)


_PRINTED: Final = (
    ("settle", "how the diver hangs"), ("why", "what turns the diver"), ("posture", "what posture holds"),
    ("fit", "whether the gear fits"), ("weigh", "the lead"), ("change", "what to change"),
    ("later", "later in the dive"), ("empty", "as the cylinders empty"),
)  # fmt: skip
_CHARTS: Final = (
    ("settle", "picture of the diver at rest", "--picture"), ("fit", "drawing of the fit", "--picture"),
    ("why", "chart of what turns the diver", "--chart"), ("weigh", "chart of the lead", "--chart"),
    ("change", "chart of the changes", "--chart"), ("later", "chart of the dive", "--chart"),
    ("empty", "chart of the emptying", "--chart"),
)  # fmt: skip
_ALL: Final = (
    Output("sheet pdf", "hand-out to print", "PDF", "sheet", ".pdf", ("-o", "NAME")),
    *(Output(f"{c} {e[1:]}", label, e[1:].upper(), c, e, (option, "NAME"))
      for c, label, option in _CHARTS for e in (".png", ".svg", ".pdf")),
    Output("model html", "model to turn, one page", "HTML", "model", ".html", ("NAME",)),
    Output("model glb", "model for slides", "GLB", "model", ".glb", ("NAME",)),
    Output("film mp4", "film of the motion", "MP4", "film", ".mp4", ("NAME",)),
    *(Output(f"{c} txt", label, "text", c, ".txt", ()) for c, label in _PRINTED),
    *(Output(f"{c} json", label, "JSON", c, ".json", ("--json",)) for c, label in _PRINTED),
)  # fmt: skip


def output_named(name: str) -> Output:
    """Raises KeyError."""
    return {one.name: one for one in outputs()}[name]


def written_name(output: Output, scenario: str) -> str:
    """What the output is called that is written of a scenario of that name."""
    stem = Path(scenario).stem
    return f"{stem}{output.ending}" if output.name in _PLAIN else f"{stem}-{output.command}{output.ending}"


_PLAIN: Final = ("settle png", "model html", "model glb", "film mp4", "sheet pdf")


def command_of(output: Output, scenario: str, settings: tuple[str, ...] = (), usual: ToldIn | None = None) -> str:
    """The command that would do the same, to be copied into a terminal.

    usual : language and units in which the program was started, which need not be said
    """
    name = written_name(output, scenario)
    words = ["hangflat", output.command, scenario, *(name if w == "NAME" else w for w in output.words)]
    words += [word for setting in settings for word in ("--set", setting)]
    words += _told_as_here(usual)
    redirected = "" if "NAME" in output.words else f" > {shlex.quote(name)}"
    return " ".join(shlex.quote(word) for word in words) + redirected


def _told_as_here(usual: ToldIn | None = None) -> list[str]:
    """Options that have a command told in the reader's language and units."""
    now = (("--language", reader().language), ("--units", reader().units))
    return [word for n, pair in enumerate(now) if usual is None or pair[1] != usual[n] for word in pair]


async def written(output: Output, text: str, scenario: str) -> tuple[bytes, str]:
    """Content of the output, and what went wrong instead (one of both empty).

    text : of the scenario file, any drawing in it by its full path
    """
    with tempfile.TemporaryDirectory(prefix="hangflat-") as folder:
        file = Path(folder, scenario)
        file.write_text(text, encoding="utf-8", newline="\n")
        made = Path(folder, written_name(output, scenario))
        words = [output.command, file.name, *(made.name if w == "NAME" else w for w in output.words)]
        words += _told_as_here()
        task = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "sim.commands.main", *words, cwd=folder, env=_surroundings(),
            stdout=asyncio.subprocess.PIPE, stderr=asyncio.subprocess.PIPE,
        )  # fmt: skip
        try:
            told, complained = await asyncio.wait_for(task.communicate(), LONGEST)
        except TimeoutError:
            return b"", f"it took longer than {LONGEST:.0f} s"
        finally:
            if task.returncode is None:
                task.kill()
                await task.wait()
        if task.returncode != 0:
            return b"", complained.decode("utf-8", "replace").strip() or "the command failed"
        return (made.read_bytes() if "NAME" in output.words else told), ""


def _surroundings() -> dict[str, str]:
    """So that the command finds this very program."""
    here = str(Path(__file__).resolve().parents[2])
    before = os.environ.get("PYTHONPATH")
    return {**os.environ, "PYTHONPATH": here if not before else f"{here}{os.pathsep}{before}"}
