"""Serves the page to this machine alone, and works its answers out in processes that can be stopped.

Nobody else may ask: the server listens on the loopback address, every path holds a random token, and what a request
says of the host it was sent to and of the page it comes from must be ours. So no other page in the same browser, and
no name that was bound to this address, can talk to it. What is sent in is bounded and read by the readers of files.
"""

from __future__ import annotations

import asyncio
import json
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from scenarios.errors import ScenarioError
from scenarios.settings import setting_of, with_settings
from sim.page.answers import answered
from sim.page.form import form
from sim.page.set_up import problems_of, text_of
from sim.telling.record import as_json
from sim.worker_pool import WorkerPool, WorkersLostError

if TYPE_CHECKING:
    from starlette.applications import Starlette
    from starlette.requests import Request
    from starlette.responses import Response

MOST: Final = 1_000_000  # bytes of a request: a set-up has thousands
DRAINED: Final = 20_000_000  # bytes that are read past, so that whoever sent them hears why they were refused
SLOW: Final = ("weighing", "advice")  # answers that are dropped when the set-up moves on
ASSETS: Final = {
    "": ("sim.page.web", "bench.html", "text/html"),
    "bench.js": ("sim.page.web", "bench.js", "text/javascript"),
    "bench.css": ("sim.page.web", "bench.css", "text/css"),
    "viewer.js": ("sim.drawing.web", "viewer.min.js", "text/javascript"),
}
SAFE: Final = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
    "connect-src 'self'; img-src 'self' data: blob:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


@dataclass(eq=False)
class Bench:
    """What is served: the file that was opened and its text, and who works answers out.

    port : that it listens on;  token : without which nothing answers
    """

    place: Path
    text: str
    document: dict[str, Any]
    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    quick: WorkerPool = field(default_factory=lambda: WorkerPool(1))
    slow: WorkerPool = field(default_factory=lambda: WorkerPool(1))

    @property
    def address(self) -> str:
        """Where the page is."""
        return f"http://127.0.0.1:{self.port}/{self.token}/"

    def close(self) -> None:
        """End the processes."""
        self.quick.shutdown(wait=False)
        self.slow.shutdown(wait=False)


def application(bench: Bench) -> Starlette:
    """The routes below the token."""
    from starlette.applications import Starlette
    from starlette.routing import Route

    def asset(name: str) -> Callable[[Request], Any]:
        async def sent(request: Request) -> Response:
            from starlette.responses import Response

            package, file, kind = ASSETS[name]
            return Response(files(package).joinpath(file).read_bytes(), media_type=kind, headers=SAFE)

        return _guarded(bench, sent)

    routes = [Route(f"/{{token}}/{name}", asset(name)) for name in ASSETS]
    for name, work, method in (("start", _start, "GET"), ("answer", _answer, "POST"), ("apply", _apply, "POST"),
                               ("save", _save, "POST")):  # fmt: skip
        routes.append(Route(f"/{{token}}/{name}", _guarded(bench, _told(bench, work)), methods=[method]))
    app = Starlette(routes=routes)
    app.router.redirect_slashes = False
    return app


def _guarded(bench: Bench, work: Callable[[Request], Any]) -> Callable[[Request], Any]:
    """Only requests to this very host, from this very page, with the token."""

    async def guarded(request: Request) -> Response:
        from starlette.responses import PlainTextResponse

        hosts = (f"127.0.0.1:{bench.port}", f"localhost:{bench.port}")
        origin = request.headers.get("origin")
        same = origin is None or origin in tuple(f"http://{host}" for host in hosts)
        if request.headers.get("host") not in hosts or not same:
            return PlainTextResponse("Only the page that this program opened may ask.", 403, headers=SAFE)
        if not secrets.compare_digest(request.path_params["token"], bench.token):
            return PlainTextResponse("The address is not complete: open the one that was printed.", 404, headers=SAFE)
        found: Response = await work(request)
        return found

    return guarded


def _told(bench: Bench, work: Callable[[Bench, Any], Any]) -> Callable[[Request], Any]:
    """JSON in, bounded, and JSON out."""

    async def told(request: Request) -> Response:
        from starlette.responses import JSONResponse

        body, sent = bytearray(), 0
        async for piece in request.stream():
            sent += len(piece)
            if sent <= MOST:
                body += piece
            elif sent > DRAINED:
                break  # who goes on after that is cut off
        if sent > MOST:
            return JSONResponse({"problems": [{"key": "", "message": "more was sent than a set-up holds"}]}, 413)
        try:
            asked = json.loads(body) if body else {}
        except ValueError:
            return JSONResponse({"problems": [{"key": "", "message": "what was sent cannot be read"}]}, 400)
        try:
            return JSONResponse(await work(bench, asked), headers=SAFE)
        except ScenarioError as refused:
            return JSONResponse({"problems": problems_of(refused)}, headers=SAFE)
        except WorkersLostError as lost:
            return JSONResponse({"problems": [{"key": "", "message": str(lost)}]}, headers=SAFE)
        except (KeyError, TypeError, AttributeError):
            return JSONResponse({"problems": [{"key": "", "message": "what was sent is no set-up"}]}, 400)

    return told


async def _start(bench: Bench, asked: Any) -> dict[str, Any]:
    """What the page begins with."""
    return {
        "groups": [as_json(group) for group in form()],
        "document": bench.document,
        "file": bench.place.name,
    }


async def _answer(bench: Bench, asked: Any) -> dict[str, Any]:
    what = str(asked["what"])
    if what in SLOW and asked.get("cancel"):
        bench.slow.shutdown(wait=False)
        bench.slow = WorkerPool(1)
        return {}
    pool = bench.slow if what in SLOW else bench.quick
    known = [str(k) for k in asked.get("known", ())]
    future = pool.submit(answered, what, dict(asked["document"]), str(bench.place), known)
    return await asyncio.wrap_future(future)


async def _apply(bench: Bench, asked: Any) -> dict[str, Any]:
    """A set-up with KEY=VALUE settings in it."""
    settings = [setting_of(str(text)) for text in asked["settings"]]
    return {"document": with_settings(asked["document"], settings)}


async def _save(bench: Bench, asked: Any) -> dict[str, Any]:
    """Write the set-up to the file that was opened, and nowhere else; its comments are kept."""
    text = text_of(asked["document"], bench.text)
    draft = bench.place.with_name(f".{bench.place.name}.draft")
    draft.write_text(text, encoding="utf-8", newline="\n")
    draft.replace(bench.place)
    bench.text = text
    return {"file": str(bench.place)}
