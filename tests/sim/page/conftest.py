"""A running bench for the tests of it, and a browser that looks at it where there is one."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from scenarios.demos import demo_path

ROOT = Path(__file__).parents[3]
DEMO = demo_path("small-woman-steel")
CHROMIUM = next((p for p in map(Path, ("/usr/bin/chromium", "/usr/bin/chromium-browser")) if p.exists()), None)
GRAPHICS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
PATIENCE = 90_000  # ms that a busy machine may take; no test takes its speed from it


class Served:
    """A running bench of a file in a folder of its own, as a user runs it."""

    def __init__(self, folder: Path, file: bytes | None = DEMO.read_bytes()) -> None:
        self.file = folder / "student.toml"
        self.state = folder / "state"
        if file is not None:
            self.file.write_bytes(file)
        self.mark = ""
        self.begin()

    def begin(self) -> None:
        """Start it, or start it again."""
        words = [sys.executable, "-m", "sim.commands.main", "open", str(self.file), "--address-only"]
        surroundings = {
            **os.environ,
            "PYTHONUNBUFFERED": "1",
            "PYTHONPATH": str(ROOT),
            "XDG_STATE_HOME": str(self.state),
        }
        self.task = subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=surroundings)
        assert self.task.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:(\d+)/([\w-]+)/", self.task.stdout.readline())
        assert found is not None
        self.port, self.token = int(found[1]), found[2]
        self.address = found[0]
        self.mark = self.ask("start", {})[1]["mark"]

    def end(self, how: int = signal.SIGINT) -> None:
        self.task.send_signal(how)
        self.task.wait(20)
        self.task.stdout.close()

    def anew(self) -> Any:
        """The demo's file as it was, nothing kept; says what it holds."""
        self.file.write_bytes(DEMO.read_bytes())
        return self.ask("open", {"mark": self.mark, "anew": True})[1]

    def ask(self, path: str, body: Any = None, **headers: str) -> tuple[int, Any]:
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        raw = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
        line.request(
            "GET" if body is None else "POST", path if path[:1] == "/" else f"/{self.token}/{path}", raw, headers
        )
        answer = line.getresponse()
        text = answer.read()
        line.close()
        kind = answer.headers.get("content-type", "")
        return answer.status, json.loads(text) if kind.startswith("application/json") else text

    def answer(self, what: str, document: Any, **more: Any) -> Any:
        status, told = self.ask("answer", {"what": what, "document": document, **more})
        assert status == 200
        return told

    def work(self, what: str, document: Any, **more: Any) -> Any:
        status, told = self.ask("work", {"what": what, "document": document, "ticket": "a1", "more": more})
        assert status == 200
        return told


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    one = Served(tmp_path_factory.mktemp("bench"))
    yield one
    one.end()


@pytest.fixture
def serving(tmp_path: Path) -> Iterator[Any]:
    """Benches that a test ends, or of another file; None for none yet."""
    made: list[Served] = []

    def begin(file: bytes | None = DEMO.read_bytes()) -> Served:
        made.append(Served(tmp_path, file))
        return made[-1]

    yield begin
    for one in made:
        if one.task.poll() is None:
            one.end()


@pytest.fixture(scope="session")
def document() -> Any:
    return tomllib.loads(DEMO.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Ended with each file: other tests drive browsers of their own, and one process can hold one driver."""
    if CHROMIUM is None:
        pytest.skip("no Chromium to open the page with")
    sync_api = pytest.importorskip("playwright.sync_api")
    sync_api.expect.set_options(timeout=PATIENCE)
    with sync_api.sync_playwright() as driver:
        one = driver.chromium.launch(executable_path=str(CHROMIUM), args=list(GRAPHICS))
        yield one
        one.close()


class Visit:
    """A page of the bench in a fresh profile, with whatever went wrong in it."""

    def __init__(self, browser: Any, served: Served, **kind: Any) -> None:
        kind = {"viewport": {"width": 1280, "height": 720}, "reduced_motion": "reduce", **kind}
        self.context = browser.new_context(**kind)
        self.served = served
        self.wrong: list[str] = []
        self.outside: list[str] = []
        self.page = self.tab()

    def tab(self) -> Any:
        page = self.context.new_page()
        page.set_default_timeout(PATIENCE)
        page.on("console", lambda said: self.wrong.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.on("request", lambda asked: self._request(asked.url))
        page.goto(self.served.address)
        page.wait_for_selector("#diver canvas")
        return page

    def _request(self, url: str) -> None:
        if not url.startswith((self.served.address, "data:", f"blob:http://127.0.0.1:{self.served.port}/")):
            self.outside.append(url)


@pytest.fixture
def visit(browser: Any, served: Served) -> Iterator[Visit]:
    """Whoever visits finds the demo's file as it was; nothing may go wrong unseen, nothing ask elsewhere."""
    served.anew()
    one = Visit(browser, served)
    yield one
    one.context.close()
    assert one.wrong == []
    assert one.outside == []


@pytest.fixture
def visiting(browser: Any, served: Served) -> Iterator[Any]:
    """Visits of other kinds: in another language, dark, on a tablet."""
    served.anew()
    made: list[Visit] = []

    def begin(bench: Served = served, **kind: Any) -> Visit:
        made.append(Visit(browser, bench, **kind))
        return made[-1]

    yield begin
    for one in made:
        one.context.close()
        assert one.wrong == []
        assert one.outside == []
