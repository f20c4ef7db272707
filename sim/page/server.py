"""Serves the page to this machine alone: what may be asked for, and what comes back."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

from scenarios.errors import Problem, ScenarioError
from scenarios.settings import setting_of, with_settings
from scenarios.toml_file import parse_toml
from sim.page.desk import Desk, OpenFile, scenario_name
from sim.page.form import form
from sim.page.guard import SAFE, RefusedError, Work, guarded, received, told
from sim.page.set_up import settings_between, text_of
from sim.page.shelf import digest_of, harmless, mark_of
from sim.page.trunk_angle import Kind, trunk_angle
from sim.page.words import page_words, worded
from sim.telling.language import LANGUAGES, in_unit, reader, unit_name
from sim.telling.record import as_json
from sim.telling.words import pitch_words

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.types import ASGIApp

SCRIPTS: Final = ("bench", "page_words", "line", "set_up", "form", "answers", "diver", "files", "photo")
ASSETS: Final = {
    "": ("sim.page.web", "bench.html", "text/html"),
    "bench.css": ("sim.page.web", "bench.css", "text/css"),
    "viewer.js": ("sim.drawing.web", "viewer.min.js", "text/javascript"),
    **{f"{name}.js": ("sim.page.web", f"{name}.js", "text/javascript") for name in SCRIPTS},
}
TEXTS: Final = ("label", "hint", "meaning")
NAMES: Final = ("English", "Deutsch", "polski", "français")  # as LANGUAGES
MOST_COMMANDED: Final = 8  # settings of a command that is shown; more are better saved


def application(desk: Desk) -> ASGIApp:
    """The routes below the token."""
    from starlette.applications import Starlette
    from starlette.routing import Route

    routes = [Route(f"/{{token}}/{name}", _asset(name)) for name in ASSETS]
    for name, work in (
        ("start", _start), ("answer", _answer), ("work", _work), ("share", _share), ("drop", _drop),
        ("apply", _apply), ("save", _save), ("files", _files), ("open", _open), ("import", _import),
        ("outputs", _outputs), ("write", _write), ("angle", _angle), ("turn", _turn),
    ):  # fmt: skip
        routes.append(Route(f"/{{token}}/{name}", told(desk, work), methods=["POST"]))
    routes.append(Route("/{token}/drawing", _drawing(desk), methods=["POST"]))
    app = Starlette(routes=routes)
    app.router.redirect_slashes = False
    return guarded(desk, app)


def _asset(name: str) -> Work:
    async def sent(request: Request) -> Response:
        from starlette.responses import Response

        package, file, kind = ASSETS[name]
        return Response(files(package).joinpath(file).read_bytes(), media_type=kind, headers=SAFE)

    return sent


def _begun(desk: Desk, file: OpenFile) -> dict[str, Any]:
    """What the page knows of an open file: as it is saved, and as it was left."""
    draft = desk.shelf.draft(file.place)
    kept = None if draft is None or draft["document"] == file.document else draft["document"]
    return {
        "mark": file.mark, "file": file.place.name, "document": file.document, "draft": kept,
        "base": digest_of(file.text),
    }  # fmt: skip


async def _start(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """What the page begins with."""
    return {
        "words": page_words(),
        "groups": [_in_words(as_json(group)) for group in form()],
        "language": reader().language,
        "units": reader().units,
        "languages": dict(zip(LANGUAGES, NAMES, strict=True)),
        "moment": {"name": unit_name("N m"), "each": in_unit(1.0, "N m")},
        **_begun(desk, desk.file(asked.get("mark"))),
    }


def _in_words(group: Any) -> Any:
    """A group's texts in the reader's language; its keys and choices stay as a scenario has them."""
    fields = [
        {**one, **{part: worded(one[part]) for part in TEXTS}, "named": [worded(c) for c in one["choices"]]}
        for one in (*group["fields"], *group["more"])
    ]
    shown = len(group["fields"])
    return {**group, "heading": worded(group["title"]), "fields": fields[:shown], "more": fields[shown:]}


def _document(desk: Desk, asked: Mapping[str, Any]) -> tuple[OpenFile, dict[str, Any]]:
    file, document = desk.file(asked.get("mark")), asked["document"]
    if not isinstance(document, dict):
        raise TypeError
    desk.confined(document, file)
    return file, document


async def _answer(desk: Desk, asked: Mapping[str, Any]) -> Any:
    file, document = _document(desk, asked)
    if asked["what"] == "flat" and not asked.get("aside"):  # else it is not what is set up
        if document == file.document:
            desk.shelf.drop_draft(file.place)
        else:
            desk.shelf.keep_draft(file.place, document, digest_of(file.text))
    return await desk.answer(str(asked["what"]), document, file, [str(k) for k in asked.get("known", ())])


async def _work(desk: Desk, asked: Mapping[str, Any]) -> Any:
    file, document = _document(desk, asked)
    more = asked.get("more", {})
    if isinstance(more.get("pinned"), dict):
        desk.confined(more["pinned"], file)
    return await desk.work_out(str(asked["what"]), document, file, more, str(asked.get("ticket", "")))


async def _share(desk: Desk, asked: Mapping[str, Any]) -> Any:
    return {"share": desk.share(str(asked["ticket"]))}


async def _drop(desk: Desk, asked: Mapping[str, Any]) -> Any:
    desk.drop_work()
    return {}


async def _apply(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """A set-up with KEY=VALUE settings in it."""
    settings = [setting_of(str(text)) for text in asked["settings"]]
    return {"document": with_settings(asked["document"], settings)}


async def _save(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """Write the set-up to the file that was opened, or to another name beside it, and nowhere else."""
    file, document = _document(desk, asked)
    name = asked.get("name")
    over = bool(asked.get("over"))
    if name is None and not over and desk.is_changed(file, asked.get("base")):
        return {"changed": True}
    if name is not None and not over:
        new = file.place.with_name(scenario_name(str(name)))
        if new.exists():
            raise ScenarioError([Problem("", f"{new.name} is there already; choose another name", "name")])
    if over:
        file.text = OpenFile.read(file.place).text if file.place.exists() else file.text
    return _begun(desk, desk.saved(file, document, None if name is None else str(name)))


async def _files(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """What can be opened: recent files, and those beside the one that is open."""
    file = desk.file(asked.get("mark"))
    return {
        "link": file.place.as_uri(),
        "recent": [{"mark": mark_of(p), "name": p.name, "folder": str(p.parent)} for p in desk.shelf.recent()],
        "beside": [p.name for p in desk.beside(file)],
    }


async def _open(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """Another file: one opened before, or one in the same folder by its name; ``anew`` reads this one again."""
    file = desk.file(asked.get("mark"))
    if asked.get("anew"):
        fresh = OpenFile.read(file.place)
        file.text, file.document = fresh.text, fresh.document
        desk.shelf.drop_draft(file.place)
        return _begun(desk, file)
    if "recent" in asked:
        places = [p for p in desk.shelf.recent() if mark_of(p) == asked["recent"]]
    else:
        places = [p for p in desk.beside(file) if p.name == asked["name"]]
    if not places:
        raise ScenarioError([Problem("", "this file is not there any more")])
    return _begun(desk, desk.take(OpenFile.read(places[0])))


async def _import(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """The set-up that a scenario's text says, to go on with in the file that is open."""
    document = parse_toml(str(asked["text"]), harmless(str(asked.get("name", "scenario"))))
    if "part" in document:
        raise ScenarioError([Problem("", "this is a parts file, which has no person to set up")])
    file = desk.file(asked.get("mark"))
    desk.confined(document, file)
    return {"document": document}


def _drawing(desk: Desk) -> Work:
    """A plate's drawing dropped in; it is read where answers are worked out, by the readers of files."""
    from meshes.drawings.shape_file import MOST_BYTES
    from scenarios.back_gear import DRAWING_KINDS

    async def asked(request: Request) -> Response:
        from starlette.responses import JSONResponse

        try:
            name = harmless(request.query_params.get("name", ""))
            if Path(name).suffix.lower() not in DRAWING_KINDS:
                raise RefusedError(f"{name} is no drawing read here; known: {', '.join(DRAWING_KINDS)}", 415)
            content = await received(request, MOST_BYTES)
            place = desk.shelf.keep_drawing(name, content)
        except RefusedError as why:
            return JSONResponse({"problems": [{"key": "", "message": str(why)}]}, why.status, headers=SAFE)
        except OSError as why:
            words = f"the drawing cannot be kept: {why.strerror or why}"
            return JSONResponse({"problems": [{"key": "", "message": words}]}, headers=SAFE)
        return JSONResponse({"file": str(place)}, headers=SAFE)

    return asked


async def _outputs(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """What can be written of the set-up, each with the command that does the same."""
    from sim.page.outputs import command_of, outputs

    file, document = _document(desk, asked)
    settings = settings_between(file.document, document)
    few = settings is not None and len(settings) <= MOST_COMMANDED
    return {
        "outputs": [
            {
                "name": o.name,
                "label": f"{worded(o.label)} ({worded(o.kind)})",
                "command": command_of(o, file.place.name, settings or (), desk.told_in) if few else None,
            }
            for o in outputs()
        ]
    }


async def _write(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """One output, as the bytes of its file."""
    from starlette.responses import Response

    from sim.page.outputs import KINDS, output_named, written, written_name

    file, document = _document(desk, asked)
    output = output_named(str(asked["name"]))
    content, wrong = await written(output, text_of(_found_anywhere(document, file), file.text), file.place.name)
    if wrong:
        raise ScenarioError([Problem("", wrong)])
    name = quote(written_name(output, file.place.name))
    return Response(content, media_type=KINDS[output.ending],
                    headers={**SAFE, "Content-Disposition": f"attachment; filename*=UTF-8''{name}"})  # fmt: skip


def _found_anywhere(document: dict[str, Any], file: OpenFile) -> dict[str, Any]:
    """The files that a set-up names by their full paths."""
    found, plate = dict(document), document.get("plate")
    if isinstance(plate, dict) and isinstance(plate.get("file"), str):
        found["plate"] = {**plate, "file": str((file.place.parent / plate["file"]).absolute())}
    if isinstance(document.get("known"), str):
        found["known"] = str((file.place.parent / document["known"]).absolute())
    return found


async def _angle(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """How the trunk lies in a picture, of which only the points that were clicked come here."""
    kind: Kind = "plumb" if asked.get("kind") == "plumb" else "level"
    line = asked["line"]
    try:
        found = trunk_angle(asked["hip"], asked["shoulder"], (line[0], line[1]), kind)
    except ValueError as why:
        raise ScenarioError([Problem("", str(why))]) from None
    return {"pitch": found.pitch, "slip": found.slip, "typed": found.typed, "said": pitch_words(found.pitch)}


async def _turn(desk: Desk, asked: Mapping[str, Any]) -> Any:
    """What frames of a film measure: a freeze test, as ``seen`` and ``calibrate`` take it; or nothing."""
    from sim.page.measured import freeze_of

    found = freeze_of([dict(frame) for frame in asked["frames"]])
    if found is None:
        return {"freeze": None}
    drift, seconds = found
    return {"freeze": {"drift": drift, "seconds": seconds, "typed": f"freeze: {drift} in {seconds:.1f} s"}}
