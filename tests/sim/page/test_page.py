"""The bench in the browser: the same answers as the commands, for this machine alone, and nothing lost."""

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
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main
from sim.page.form import form
from sim.page.set_up import opened, text_of

DEMO = demo_path("small-woman-steel")
CHROMIUM = next((p for p in map(Path, ("/usr/bin/chromium", "/usr/bin/chromium-browser")) if p.exists()), None)
GRAPHICS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")


@dataclass
class Served:
    """A running bench: its file, port and token."""

    file: Path
    port: int
    token: str

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/{self.token}/"

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

    def answer(self, what: str, document: Any) -> Any:
        status, told = self.ask("answer", {"what": what, "document": document})
        assert status == 200
        return told


@pytest.fixture(scope="module")
def served(tmp_path_factory) -> Iterator[Served]:
    file = tmp_path_factory.mktemp("bench") / "student.toml"
    file.write_bytes(DEMO.read_bytes())
    words = [sys.executable, "-m", "sim.commands.main", "open", str(file), "--address-only"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[3],
                          env={**os.environ, "PYTHONUNBUFFERED": "1"}) as task:  # fmt: skip
        found = re.search(r"http://127\.0\.0\.1:(\d+)/([\w-]+)/", task.stdout.readline())
        yield Served(file, int(found[1]), found[2])
        task.send_signal(signal.SIGINT)
        task.wait(20)


@pytest.fixture(scope="module")
def document() -> Any:
    return tomllib.loads(DEMO.read_text(encoding="utf-8"))


def test_it_says_what_settle_says(served, document, capsys):
    told = served.answer("held", document)
    assert main(["settle", str(DEMO), "--json"]) == 0
    settled = json.loads(capsys.readouterr().out)
    assert told["moment"] == pytest.approx(settled["flat"]["pitch_moment_nm"], abs=1e-9)
    moments = {i["name"]: i["moment"] for i in told["items"]}
    assert moments == pytest.approx(
        {i["name"]: i["moment_nm"] for i in settled["items"] if i["name"] in moments}, abs=1e-9
    )
    freeze = dict(served.answer("let go", document)["freeze"])
    assert f"after {settled['settled']['time_s']:.0f} s" in freeze


def test_it_says_what_fit_says(served, document, capsys):
    told = served.answer("fit", document)["verdicts"]
    assert main(["fit", str(DEMO), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["plates"][0]["verdicts"]
    assert [(v["subject"], v["passes"], v["sentence"]) for v in told] == [
        (v["subject"], v["passes"], v["sentence"]) for v in found
    ]


def test_shapes_that_are_known_are_not_sent_again(served, document):
    first = served.answer("held", document)["surfaces"]
    known = [s["digest"] for s in first]
    again = served.ask("answer", {"what": "held", "document": document, "known": known})[1]["surfaces"]
    assert [s["digest"] for s in again] == known
    assert not any("positions" in s for s in again)
    other = {**document, "lead": [{"mass": "2 kg", "place": "belt"}]}
    sent = served.ask("answer", {"what": "held", "document": other, "known": known})[1]["surfaces"]
    assert [s["name"] for s in sent if "positions" in s and s["group"] != "gas" and s["name"] != "wing"] == [
        "lead, belt"
    ]


def test_wrong_input_is_told_at_its_key_in_the_words_of_the_command_line(served, document):
    wrong = {**document, "diver": {**document["diver"], "height": "166"}}
    problems = served.answer("held", wrong)["problems"]
    assert [p["key"] for p in problems] == ["diver.height"]
    assert 'has no unit; write it with one, like "166 cm"' in problems[0]["message"]


def test_advice_can_be_put_in(served, document):
    told = served.answer("advice", document)
    best = served.ask("apply", {"document": document, "settings": told["best"]["settings"]})[1]["document"]
    assert abs(served.answer("held", best)["moment"]) < abs(served.answer("held", document)["moment"])


@pytest.mark.parametrize(
    ("headers", "path", "status"),
    [
        ({"Host": "bench.example:80"}, "start", 403),
        ({"Origin": "http://other.example"}, "start", 403),
        ({"Origin": "null"}, "start", 403),
        ({}, "/x/start", 404),
        ({}, "/start", 404),
        ({}, "../../etc/passwd", 404),
    ],
)
def test_nobody_else_may_ask(served, headers, path, status):
    assert served.ask(path, **headers)[0] == status


def test_what_is_sent_is_bounded_and_checked(served):
    assert served.ask("answer", b"x" * 1_500_000)[0] == 413
    assert served.ask("answer", b"{")[0] == 400
    assert served.ask("answer", {"what": "held", "document": 3})[0] == 400
    assert served.ask("answer", {"what": "nothing", "document": {}})[0] == 400
    assert served.answer("held", {"diver": {}})["problems"]


def test_saving_keeps_comments_where_values_did_not_change(served, document):
    changed = {
        **document,
        "diver": {**document["diver"], "mass": "61 kg"},
        "lead": [{"mass": "1 kg", "place": "tail"}],
    }
    assert served.ask("save", {"document": changed})[0] == 200
    text = served.file.read_text(encoding="utf-8")
    assert tomllib.loads(text) == changed
    assert "# without shoes" in text
    assert "# without clothes" not in text  # it stood beside the mass
    assert [p.name for p in served.file.parent.iterdir()] == ["student.toml"]


def test_a_set_up_that_did_not_change_is_the_file_byte_for_byte():
    set_up, text = opened(DEMO)
    assert text_of(set_up.document, text) == text


def test_every_field_is_a_key_of_the_scenario():
    from sim.commands.scenario_keys import scenario_keys

    keys = {k.key for k in scenario_keys()}
    for group in form():
        for field in group.fields:
            key = f"{group.table}.N.{field.key}" if group.table else field.key
            known = key in keys or key.startswith(("diver.measures.", "pose.joints."))
            assert known or key == "gear.N.catalogue", key


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium to open the page with")
def test_a_newcomer_sets_up_slides_undoes_and_saves(served):
    sync_api = pytest.importorskip("playwright.sync_api")
    served.file.write_bytes(DEMO.read_bytes())
    wrong: list[str] = []
    with sync_api.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=list(GRAPHICS))
        page = browser.new_page(viewport={"width": 1280, "height": 720})
        page.on("console", lambda said: wrong.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        outside: list[str] = []
        page.on(
            "request", lambda r: outside.append(r.url) if not r.url.startswith((served.address, "data:")) else None
        )
        page.set_default_timeout(90_000)
        page.goto(served.address)
        page.wait_for_selector("canvas")
        before = page.inner_text("#moment")
        page.click("text=Add lead")
        page.select_option("#f-lead-0-place", "ankles")
        seen = sync_api.expect
        seen.set_options(timeout=90_000)
        seen(page.locator("#moment")).not_to_have_text(before)
        page.fill("#f-diver-height", "166")
        page.press("#f-diver-height", "Tab")
        seen(page.locator("#f-diver-height-wrong")).to_contain_text("has no unit")
        page.click("#undo")
        seen(page.locator("#f-diver-height-wrong")).to_be_hidden()
        page.evaluate("""const s = document.querySelector('[aria-label="lead, slide"]');
                         s.value = 3; s.dispatchEvent(new Event('input')); s.dispatchEvent(new Event('change'))""")
        seen(page.locator("#f-lead-0-mass")).to_have_value("3 kg")
        seen(page.locator("#items")).to_contain_text("lead, ankles")
        page.click("#save")
        seen(page.locator("#note")).to_contain_text("Saved")
        browser.close()
    assert wrong == []
    assert outside == []
    assert tomllib.loads(served.file.read_text(encoding="utf-8"))["lead"] == [{"mass": "3 kg", "place": "ankles"}]
