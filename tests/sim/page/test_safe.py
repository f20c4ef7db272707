"""What others may try on the bench: each is refused, and nothing is lost."""

from __future__ import annotations

import io
import os
import socket
import zipfile
from contextlib import ExitStack
from pathlib import Path

import pytest


@pytest.mark.parametrize("body", [None, {}])
@pytest.mark.parametrize(
    ("headers", "path", "status"),
    [
        ({"Host": "bench.example:80"}, "start", 403),  # a name that was bound to this address
        ({"Host": "bench.example"}, "/", 403),
        ({"Origin": "http://other.example"}, "start", 403),
        ({"Origin": "null"}, "start", 403),
        ({"Sec-Fetch-Site": "cross-site"}, "start", 403),
        ({"Sec-Fetch-Site": "same-site"}, "start", 403),  # another port of this machine
        ({}, "/x/start", 404),
        ({}, "/start", 404),
        ({}, "/", 404),
        ({}, "../../etc/passwd", 404),
        ({}, "../form.py", 404),
    ],
)
def test_nobody_else_may_ask(served, headers, path, status, body):
    assert served.ask(path, body, **headers)[0] == status


def test_another_ports_page_may_not_ask_even_with_the_token(served):
    assert served.ask("start", {}, Origin=f"http://127.0.0.1:{served.port + 1}")[0] == 403
    assert served.ask("start", {}, Origin=f"http://127.0.0.1:{served.port}")[0] == 200


def test_what_is_sent_is_bounded_and_checked(served):
    assert served.ask("answer", b"x" * 1_500_000)[0] == 413
    assert served.ask("answer", b"{")[0] == 400
    assert served.ask("answer", b"[" * 100_000)[0] == 400
    assert served.ask("answer", {"what": "flat", "document": 3})[0] == 400
    assert served.ask("answer", {"what": "nothing", "document": {}})[0] == 400
    assert served.ask("start", None)[0] == 405
    assert served.answer("flat", {"diver": {}})["problems"]


@pytest.mark.parametrize("path", ["drawing?name=plate.svg", "answer"])
def test_two_hundred_megabytes_are_refused_before_they_come(served, path):
    head = (
        f"POST /{served.token}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n"
        f"Content-Length: 200000000\r\nConnection: close\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", served.port), timeout=60) as line:
        line.sendall(head.encode())
        assert line.recv(100).split(b" ")[1] == b"413"  # not one byte of it was sent


@pytest.mark.parametrize("name", ["plate.exe", "plate", "", "..", "plate.svg.html", "plate.toml"])
def test_only_drawings_are_taken_as_drawings(served, name):
    assert served.ask(f"drawing?name={name}", b"<svg/>")[0] == 415


@pytest.mark.parametrize(
    "name", ["../../../plate.svg", "..%5C..%5Cplate.svg", "%2Fetc%2Fplate.svg", "a%00/plate.svg"]
)
def test_a_hostile_name_of_a_drawing_stays_in_its_folder(served, name):
    status, told = served.ask(f"drawing?name={name}", b"<svg/>")
    assert status == 200
    place = Path(told["file"])
    assert place.is_relative_to(served.state)
    assert place.name == "plate.svg"


def zip_bomb():
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("3D/3dmodel.model", b"<model>" + b" " * 100_000_000)
    return held.getvalue()


def many_laughs():
    lots = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 12))
    return f'<!DOCTYPE svg [<!ENTITY l0 "ha">{lots}]><svg>&l11;</svg>'.encode()


def endless_depth():
    return b"<svg>" + b"<g>" * 200_000


def claims_of_plenty():
    return b"\0" * 80 + (2**32 - 1).to_bytes(4, "little")


@pytest.mark.parametrize(
    ("name", "made"),
    [("b.3mf", zip_bomb), ("b.svg", many_laughs), ("c.svg", endless_depth), ("b.stl", claims_of_plenty)],
)
def test_a_drawing_that_is_a_bomb_is_told_and_the_bench_goes_on(served, document, name, made):
    status, told = served.ask(f"drawing?name={name}", made())
    assert status == 200
    plate = {"material": "stainless steel", "thickness": "3 mm", "file": told["file"]}
    problems = served.answer("flat", {**document, "plate": plate})["problems"]
    assert problems[0]["key"].startswith("plate")
    assert served.answer("flat", document)["moment"] < 0.0


@pytest.mark.parametrize("name", ["/etc/passwd", "../../../../etc/passwd", "/proc/self/environ"])
def test_no_file_is_read_outside_of_where_the_user_is(served, document, name):
    plate = {"material": "stainless steel", "thickness": "3 mm", "file": name}
    for what in ("flat", "view", "facts"):
        problems = served.answer(what, {**document, "plate": plate})["problems"]
        assert [(p["key"], "only files in the folder" in p["message"]) for p in problems] == [("plate.file", True)]
    assert served.work("advice", {**document, "known": name})["problems"][0]["key"] == "known"
    assert (
        served.work("compared", document, pinned={**document, "plate": plate})["problems"][0]["key"] == "plate.file"
    )
    assert served.ask("write", {"document": {**document, "plate": plate}, "name": "settle json"})[1]["problems"]


def test_a_link_out_of_the_folder_is_not_followed(served, document):
    link = served.file.with_name("plate.svg")
    link.symlink_to("/etc/passwd")
    plate = {"material": "stainless steel", "thickness": "3 mm", "file": "plate.svg"}
    try:
        assert "only files" in served.answer("flat", {**document, "plate": plate})["problems"][0]["message"]
    finally:
        link.unlink()


def test_nothing_is_written_or_opened_outside_of_the_folder(served, document):
    begun, before = served.anew(), {*served.file.parent.iterdir()}
    asked = {"document": document, "mark": served.mark, "base": begun["base"]}
    written = served.ask("save", {**asked, "name": "../../../outside.toml"})[1]
    assert written["file"] == "outside.toml"
    assert {*served.file.parent.iterdir()} - before == {served.file.with_name("outside.toml")}
    served.file.with_name("outside.toml").unlink()
    assert served.ask("save", {**asked, "name": "/"})[1]["problems"]
    assert served.ask("open", {"mark": served.mark, "name": "../state/hangflat/bench/recent.json"})[1]["problems"]
    assert served.ask("open", {"mark": served.mark, "recent": "0" * 24})[1]["problems"]
    assert {*served.file.parent.iterdir()} == before


def test_fifty_connections_that_say_nothing_do_not_keep_the_page_out(served, document):
    with ExitStack() as stack:
        for _ in range(50):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", served.port), timeout=10))
            line.sendall(f"POST /{served.token}/answer HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n".encode())
        assert served.answer("flat", document)["moment"] < 0.0


def test_only_this_machine_is_listened_to(served):
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {"127.0.0.1"}
    for address in others:
        with socket.socket() as line:
            line.settimeout(5)
            assert line.connect_ex((address, served.port)) != 0


def test_what_is_kept_is_the_users_alone(served, document):
    served.answer("flat", {**document, "title": "another"})
    kept = [p for p in (served.state / "hangflat" / "bench").iterdir() if p.is_file()]
    assert kept
    if os.name == "posix":
        assert {p.stat().st_mode & 0o077 for p in kept} == {0}
    served.anew()


def test_no_page_may_frame_it_and_it_asks_nobody_else(served):
    import http.client

    line = http.client.HTTPConnection("127.0.0.1", served.port, timeout=30)
    line.request("GET", f"/{served.token}/")
    headers = line.getresponse().headers
    line.close()
    rules = dict(r.strip().split(" ", 1) for r in headers["content-security-policy"].split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["connect-src"] == rules["script-src"] == "'self'"
    assert rules["frame-ancestors"] == "'none'"
    assert headers["referrer-policy"] == "no-referrer"  # the address holds the token
