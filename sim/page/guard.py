"""Who may ask, and how much they may send.

Nobody but the page may: the server listens on the loopback address, every path holds a random token, and what a
request says of the host it was sent to and of the page it comes from must be ours. So no other page in the same
browser, and no name that was bound to this address, can talk to it.
"""

from __future__ import annotations

import asyncio
import json
import logging
import secrets
from collections.abc import Awaitable, Callable, Mapping
from typing import TYPE_CHECKING, Any, Final

from scenarios.errors import ScenarioError
from sim.page.answers import ToldIn
from sim.page.desk import Desk
from sim.page.set_up import problems_of
from sim.telling.language import LANGUAGES, UNITS, spoken
from sim.worker_pool import WorkersLostError

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.types import ASGIApp, Receive, Scope, Send

MOST: Final = 1_000_000  # bytes of a set-up, which has thousands
DRAINED: Final = 20_000_000  # bytes more that are read past, so that whoever sent them hears why they were refused
PATIENCE: Final = 30.0  # s that sending may take
SAFE: Final = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
    "img-src 'self' data: blob:; media-src blob:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}

_log: Final = logging.getLogger(__name__)

Work = Callable[["Request"], Awaitable["Response"]]


class RefusedError(Exception):
    """Something was sent that is not taken; the message says why."""

    def __init__(self, message: str, status: int) -> None:
        super().__init__(message)
        self.status = status


def guarded(desk: Desk, app: ASGIApp) -> ASGIApp:
    """Lets through only requests to this very host, from this very page, with the token."""
    from starlette.requests import Request

    async def asked(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return  # nothing but plain requests is served
        refused = _refusal(desk, Request(scope))
        await (app if refused is None else refused)(scope, receive, send)

    return asked


def _refusal(desk: Desk, request: Request) -> Response | None:
    """What whoever may not ask is told."""
    from starlette.responses import PlainTextResponse

    hosts = (f"127.0.0.1:{desk.port}", f"localhost:{desk.port}")
    origin, site = request.headers.get("origin"), request.headers.get("sec-fetch-site")
    same = origin is None or origin in tuple(f"http://{host}" for host in hosts)
    if request.headers.get("host") not in hosts or not same or site not in (None, "same-origin", "none"):
        return PlainTextResponse("Only the page that this program opened may ask.", 403, headers=SAFE)
    token = request.scope["path"].lstrip("/").partition("/")[0]
    if not secrets.compare_digest(token.encode("utf-8", "surrogatepass"), desk.token.encode()):
        return PlainTextResponse("The address is not complete: open the one that was printed.", 404, headers=SAFE)
    return None


def told(desk: Desk, work: Callable[[Desk, Mapping[str, Any]], Awaitable[Any]]) -> Work:
    """JSON in, bounded, and JSON out; what is wrong comes back as ``problems``."""

    async def asked(request: Request) -> Response:
        from starlette.responses import JSONResponse, Response

        try:
            body = _object(await received(request, MOST))
            with spoken(*_reader_of(desk, body)):
                found = await work(desk, body)
        except RefusedError as why:
            return _problem(str(why), why.status)
        except ScenarioError as refused:
            return JSONResponse({"problems": problems_of(refused)}, headers=SAFE)
        except WorkersLostError as lost:
            return _problem(str(lost), 200)
        except asyncio.CancelledError:  # dropped, since the set-up moved on
            return JSONResponse({"dropped": True}, headers=SAFE)
        except (KeyError, TypeError, AttributeError, ValueError, RecursionError):
            return _problem("what was sent is no set-up", 400)
        except Exception:
            _log.exception("The page asked for something that failed.")
            return _problem("the program failed here, which is its own fault; undo the last change", 500)
        return found if isinstance(found, Response) else JSONResponse(found, headers=SAFE)

    return asked


def _reader_of(desk: Desk, asked: Mapping[str, Any]) -> ToldIn:
    """In which language and units the page is told; as the program was started where it does not say."""
    language, units = asked.get("language"), asked.get("units")
    return (
        language if language in LANGUAGES else desk.told_in[0],
        units if units in UNITS else desk.told_in[1],
    )


async def received(request: Request, most: int) -> bytes:
    """What was sent. Raises RefusedError for more than ``most`` bytes, before they come where they are announced."""
    announced = request.headers.get("content-length", "")
    if announced.isdecimal() and int(announced) > most + DRAINED:
        raise RefusedError(_too_much(most), 413)
    body, sent = bytearray(), 0
    try:
        async with asyncio.timeout(PATIENCE):
            async for piece in request.stream():
                sent += len(piece)
                if sent <= most:
                    body += piece
                elif sent > most + DRAINED:
                    break  # who goes on after that is cut off
    except TimeoutError:
        raise RefusedError(f"what was sent did not come within {PATIENCE:.0f} s", 408) from None
    if sent > most:
        raise RefusedError(_too_much(most), 413)
    return bytes(body)


def _too_much(most: int) -> str:
    return f"more was sent than is read here: at most {most / 1e6:.0f} MB"


def _object(body: bytes) -> Mapping[str, Any]:
    try:
        found = json.loads(body) if body else {}
    except (ValueError, RecursionError):
        raise RefusedError("what was sent cannot be read", 400) from None
    if not isinstance(found, dict):
        raise RefusedError("what was sent is no set-up", 400)
    return found


def _problem(message: str, status: int) -> Response:
    from starlette.responses import JSONResponse

    return JSONResponse({"problems": [{"key": "", "message": message}]}, status, headers=SAFE)
