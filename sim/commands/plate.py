"""``hangflat plate``: a plate on the designer's bench."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Final, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.plate_design import NO_DESIGN, Design, told_design
from sim.commands.plate_divers import NO_DIVERS, OnDivers, with_divers
from sim.commands.plate_hold import NOT_CARRIED, Carrying, told_hold
from sim.commands.plate_people import NOBODY, Whom, told_whom
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.watching import DRAWING, waiting
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.telling.language import told

EXPORTS: Final = (".stl", ".glb", ".dxf")


def plate(
    file: Path,
    /,
    *,
    thickness: str | None = None,
    material: str | None = None,
    bends: str | None = None,
    unit: str | None = None,
    picture: Path | None = None,
    drawing: Path | None = None,
    tiles: Path | None = None,
    paper: Literal["a4", "letter"] = "a4",
    export: tuple[Path, ...] = (),
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    whom: Whom = NOBODY,
    carrying: Carrying = NOT_CARRIED,
    worn: OnDivers = NO_DIVERS,
    search: Design = NO_DESIGN,
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say what a plate weighs, where its bolts and slots are, and whether it can be made as drawn.

    Parameters
    ----------
    file
        A drawing (DXF, SVG; STL, OBJ, PLY, 3MF, GLB, STEP), a file with [plate] alone, a scenario, or the name of a
        plate of the catalogue, e.g. "small steel".
    thickness
        Of the sheet of a flat drawing, e.g. "3 mm".
    material
        What it is made of, e.g. "aluminium 5083-H111"; hangflat catalogue materials lists them.
    bends
        Folds of a flat drawing as in [plate]: '[{offset="32 mm", angle="45 deg"}]', plus turns what lies outside
        toward the diver.
    unit
        Of the drawing's numbers, where the file does not state it: mm, cm, m, in or ft.
    picture
        Draw the bent plate from behind and from the front to this file (PNG, SVG or PDF).
    drawing
        Draw the flat sheet with all measures to this file at full size, to print at 100 % (PDF, SVG or PNG).
    tiles
        The same over small pages that are laid on one another, crosses on crosses, to this file (PDF).
    paper
        Of those pages.
    export
        Write the plate for other programs, as the name ends: .stl (mm) or .glb, the bent solid; .dxf, the flat
        pattern with layers CUT, BEND and TEXT. May be given again.
    as_json
        Print one JSON object instead of text.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set plate.mass="2.4 kg". May be given again.
    """
    tracing.check(as_json)
    whom.check()
    carrying.check()
    worn.check()
    search.check()
    _check_apart([path for path in (*export, drawing, tiles, picture) if path])
    with ExitStack() as stack:
        drafts = {path: stack.enter_context(written_whole(path, EXPORTS)) for path in export}
        wanted = ((drawing, PICTURE_ENDINGS), (tiles, (".pdf",)), (picture, PICTURE_ENDINGS))
        drawn = [stack.enter_context(written_whole(path, ends)) if path else None for path, ends in wanted]
        from scenarios.errors import ScenarioError
        from scenarios.settings import setting_of
        from sim.answers.plate.answer import plate_answer
        from sim.answers.plate.bench import bench_plate, blamed_on_options, option_settings
        from sim.answers.plate.export import draw_files, export_plate
        from sim.telling.written_file import WrittenFile, written

        options = (("material", material), ("thickness", thickness), ("bends", bends), ("unit", unit))
        try:
            bench = bench_plate(file, [*option_settings(options), *map(setting_of, settings)])
        except ScenarioError as error:
            raise blamed_on_options(error) from None
        pictures = any((*drawn, whom.draws, worn.draws, carrying.stress, search.draws))
        made = stack.enter_context(traced(tracing, as_json, bench, pictures=pictures))
        answer = plate_answer(bench)
        if whom.asked:
            answer = replace(answer, people=told_whom(bench, whom))
        if carrying.hold:
            answer = replace(answer, hold=told_hold(bench, carrying, whom.wearing, whom.beside))
        answer = with_divers(answer, bench, worn, whom.wearing)
        if search.design:
            answer = replace(answer, design=told_design(bench, search, whom.csv, whom.wearing))
        for path, draft in drafts.items():
            export_plate(bench, draft, path.suffix.lower())
        if any(drawn):
            with waiting(told(DRAWING)):
                sheet, pages, look = drawn
                draw_files(bench, answer, sheet, pages, look, paper)
        answer = replace(
            answer,
            exported=tuple(WrittenFile(str(path)) for path in drafts) or None,
            drawing=written(drawing),
            tiles=written(tiles),
            picture=written(picture),
        )
    if as_json:
        say_json(answer, made)
        return
    from sim.answers.plate.text import plate_text
    from sim.telling.file_line import Written, file_line

    named: list[tuple[Written, Path | None]] = [("Picture", picture), ("Drawing", drawing), ("Tiles", tiles)]
    named += [("Written", path) for path in drafts]
    if answer.design:
        found = answer.design
        named += [("Written", Path(one.file)) for one in (found.file, found.dxf) if one]
        named += [("Picture", Path(found.picture.file))] if found.picture else []
    files = [file_line(name, path) for name, path in named if path]
    say("\n".join([plate_text(answer), *([""] if files else []), *files]))


def _check_apart(files: Sequence[Path]) -> None:
    """Raises UsageError for two files that are one."""
    for path, count in Counter(path.resolve() for path in files).items():
        if count > 1:
            raise UsageError(f"{path.name} is to be written {count} times; give each its own file.")
