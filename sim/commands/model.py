"""``hangflat model``: the diver as a model to turn."""

from __future__ import annotations

from contextlib import ExitStack
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, traced
from sim.commands.whole_file import written_whole
from sim.said import note
from sim.telling.language import told

ENDINGS = (".html", ".glb")


def model(
    file: Path,
    to: Annotated[tuple[Path, ...], Parameter(name="TO", required=True)],
    /,
    *,
    at: Literal["flat", "rest"] = "flat",
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
) -> None:
    """Write the diver as a model to turn: a page for any browser, or a GLB for slides.

    Parameters
    ----------
    file
        Scenario or parts file (TOML).
    to
        What to write: a name that ends in .html (one file that needs nothing else, with the motion from flat) or in
        .glb (named parts, true scale). Both may be given.
    at
        How the diver lies in the GLB: flat (default), or at rest after being let go.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set diver.mass="60 kg". May be given again.
    """
    if len({path.suffix.lower() for path in to}) < len(to):
        raise UsageError("model writes one .html and one .glb at most; give each once.")
    with ExitStack() as stack:
        drafts = {path.suffix.lower(): stack.enter_context(written_whole(path, ENDINGS)) for path in to}
        from sim.case import Case

        case = Case.read(file, settings)
        stack.enter_context(traced(DIGEST_ALONE, False, case, pictures=True))
        from sim.answers.model.glb import write_glb
        from sim.answers.model.motion import motion_of
        from sim.answers.model.page import write_page
        from sim.answers.model.parts import shown_parts
        from sim.answers.settle.drawn.settled import scene_of
        from sim.answers.settle.report import report_of
        from sim.drawing.views import world_from_body
        from sim.telling.caution import CAUTION, told_caution
        from sim.telling.file_line import file_line
        from sim.telling.words import wrapped

        report = report_of(case.assembled)
        scene = scene_of(report)
        parts = shown_parts(scene)
        if ".html" in drafts:
            write_page(report, scene, parts, motion_of(report), drafts[".html"])
        if ".glb" in drafts:
            up = scene.up if at == "rest" else (0.0, 0.0, 1.0)
            write_glb(parts, world_from_body(up), drafts[".glb"], title=scene.title, caution=CAUTION)
    caution = wrapped(told(note("Caution: {caution}", caution=told_caution())), later="  ")
    say("\n".join([*(file_line("Model", path) for path in to), "", *caution]))
