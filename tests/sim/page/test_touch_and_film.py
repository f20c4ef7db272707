"""The bench by fingers, on a tablet; and a film of which two frames are measured. In a real browser, as above."""

from __future__ import annotations

import io
import math
import re

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
expect = sync_api.expect
TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True}


class Fingers:
    """Fingers on a page, as the browser's own input takes them."""

    def __init__(self, page):
        self.line = page.context.new_cdp_session(page)

    def put(self, kind, *places):
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        self.line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def move(self, starts, ends, steps=4):
        """From where they are put down to where they are lifted."""
        self.put("touchStart", *starts)
        for step in range(1, steps + 1):
            share = step / steps
            self.put(
                "touchMove",
                *(
                    (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
                    for a, b in zip(starts, ends, strict=True)
                ),
            )
        self.put("touchEnd")


def spots(page):
    """Where each grip is on the screen."""
    found = page.evaluate("document.getElementById('diver').viewer.spots()")
    return {one["key"]: (one["x"], one["y"]) for one in found}


def body(page):
    """From the knee's grip to the shoulder's (2,) [pixels]: where the whole stands hangs on what is worn."""
    there = spots(page)
    knee, shoulder = there["pose.joints.knee flexion"], there["pose.joints.shoulder flexion"]
    return [b - a for a, b in zip(knee, shoulder, strict=True)]


def test_fingers_turn_the_diver_pinch_and_drag_a_grip(visiting):
    page = visiting(**TABLET).page
    fingers = Fingers(page)
    box = page.locator("#diver canvas").bounding_box()
    corner = (box["x"] + 60, box["y"] + box["height"] - 40)  # no grip is near

    before = spots(page)
    fingers.move([corner], [(corner[0] + 90, corner[1])])
    turned = spots(page)
    assert math.dist(turned["harness.drop"], before["harness.drop"]) > 5.0
    page.click("#views [name=side]")
    assert spots(page)["harness.drop"] == pytest.approx(before["harness.drop"])

    def apart():
        there = spots(page)
        return math.dist(there["pose.joints.knee flexion"], there["pose.joints.shoulder flexion"])

    narrow = apart()
    fingers.move([corner, (corner[0] + 40, corner[1])], [corner, (corner[0] + 80, corner[1])])
    assert apart() > 1.2 * narrow
    page.click("#views [name=side]")

    moment, lies = page.inner_text("#moment"), body(page)
    x, y = spots(page)["harness.drop"]
    fingers.move([(x + 24, y)], [(x - 6, y)])  # beside it, where a finger may be that hides it
    expect(page.locator("#f-harness-drop")).to_have_value(re.compile(r"^[1-9]\d*(\.\d)? cm$"))
    expect(page.locator("#moment")).not_to_have_text(moment)
    assert body(page) == pytest.approx(lies, abs=2.0)  # pixels: the diver was not turned, nor drawn larger
    assert page.evaluate("scrollY") == 0  # nothing of it scrolled the page
    page.click("#undo")
    expect(page.locator("#moment")).to_have_text(moment)


def film(seconds=3, size=(160, 120), rate=10):
    """A film in which nothing is to be seen, as the bytes of a WebM file."""
    av = pytest.importorskip("av")
    import numpy as np

    kept = io.BytesIO()
    with av.open(kept, "w", format="webm") as out:
        stream = out.add_stream("libvpx", rate=rate)
        stream.width, stream.height, stream.pix_fmt = *size, "yuv420p"
        for number in range(seconds * rate):
            grey = np.full((size[1], size[0], 3), 40 + 5 * number, np.uint8)
            out.mux(stream.encode(av.VideoFrame.from_ndarray(grey, format="rgb24")))
        out.mux(stream.encode())
    return kept.getvalue()


def click_trunk(page, pitch):
    """Hip, shoulder and a level line, so that the trunk lies at an angle [deg]."""
    box = page.locator("#photo").bounding_box()
    each = box["width"] / 160
    hip, long = (110, 70), 60
    shoulder = (hip[0] - long * math.cos(math.radians(pitch)), hip[1] - long * math.sin(math.radians(pitch)))
    for x, y in (hip, shoulder, (10, 20), (150, 20)):
        page.mouse.click(box["x"] + x * each, box["y"] + y * each)


def test_two_frames_of_a_film_make_a_freeze_test(visiting):
    visit = visiting()
    page = visit.page
    sent = []
    page.on("request", lambda asked: sent.append(len(asked.post_data or "")))
    page.set_input_files("#photo-file", {"name": "pool.webm", "mimeType": "video/webm", "buffer": film()})
    expect(page.locator("#film")).to_be_visible()
    click_trunk(page, 0)
    expect(page.locator("#angle")).to_contain_text("level")
    page.click("#keep-frame")
    expect(page.locator("#turned")).to_contain_text("Kept: level")

    def go_to(seconds):
        page.evaluate(
            """at => { const time = document.getElementById("film-time"); time.value = at;
            time.dispatchEvent(new Event("input")); }""",
            seconds,
        )
        expect(page.locator("#photo-step")).to_contain_text("hip")

    go_to(2)
    click_trunk(page, -30)
    expect(page.locator("#angle")).to_contain_text(re.compile("(29|30|31) degrees head-down"))  # half a pixel of 60
    page.click("#keep-frame")
    expect(page.locator("#turned")).to_contain_text("in 2.0 s")
    expect(page.locator("#ask-calibration")).to_be_enabled()
    expect(page.locator("#ask-seen")).to_be_enabled()
    assert max(sent) < 20_000  # points, no picture
    go_to(1)
    click_trunk(page, -12)  # no freeze test: it has not turned far enough
    page.click("#keep-frame")
    expect(page.locator("#turn-why")).not_to_be_empty()
    expect(page.locator("#ask-calibration")).to_be_disabled()
    page.keyboard.press("Escape")
    expect(page.locator("#photo-box")).to_be_hidden()
