"""The bench as people meet it, in a real browser; where no Chromium is found, these tests are told as skipped."""

from __future__ import annotations

import re
import signal
import tomllib
from importlib.resources import files

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
expect = sync_api.expect
PLATE = """<svg xmlns="http://www.w3.org/2000/svg" width="270mm" height="400mm" viewBox="0 0 270 400">
<path fill="none" stroke="black" d="M35 0 H235 L270 60 V370 L240 400 H30 L0 370 V60 Z"/>
<circle cx="135" cy="80" r="5.5"/><circle cx="135" cy="360" r="5.5"/>
<rect x="60" y="40" width="52" height="8"/><rect x="158" y="40" width="52" height="8"/>
<rect x="12" y="310" width="8" height="52"/><rect x="250" y="310" width="8" height="52"/>
<rect x="109" y="378" width="52" height="8"/></svg>"""  # invented
GRIPS = "document.getElementById('diver').viewer.grips()"
DROP = """([name, text]) => { const all = new DataTransfer(); all.items.add(new File([text], name));
          window.dispatchEvent(new DragEvent("drop", { dataTransfer: all, bubbles: true, cancelable: true })); }"""


def slide(page, key, value):
    """Slide a field's slider to a value, as a hand would, and let go of it."""
    page.evaluate(
        """([id, value]) => { const s = document.getElementById(id); s.value = value;
        s.dispatchEvent(new Event("input")); s.dispatchEvent(new Event("change")); }""",
        [f"f-{key.replace('.', '-')}-slide", value],
    )


def group(page, title):
    """Open a group of the form."""
    one = page.locator(f"#g-{title.replace(' ', '-')}")
    if one.evaluate("one => !one.parentElement.open"):
        one.click()


def faults(page):
    """What axe finds against WCAG 2.2 AA: rule and elements."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate((files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8"))
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("rules => axe.run(document, { runOnly: rules })", rules)
    assert len(found["passes"]) > 10
    return [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in found["violations"]]


def test_a_newcomer_comes_from_nothing_to_a_file_and_a_sheet(serving, visiting):
    bench = serving(None)
    page = visiting(bench).page
    page.fill("#f-diver-height", "181 cm")
    page.press("#f-diver-height", "Enter")
    page.select_option("#f-diver-sex", "male")
    page.fill("#f-diver-mass", "84 kg")
    page.press("#f-diver-mass", "Tab")
    page.select_option("#f-suit-undergarment-catalogue", "heavy")
    group(page, "Plate and harness")
    page.select_option("#f-plate-catalogue", "small steel")
    page.click("#add-lead")
    page.fill("#f-lead-0-mass", "1 kg")
    page.select_option("#f-lead-0-place", "ankles")
    expect(page.locator("#items")).to_contain_text("lead")
    page.keyboard.press("Control+s")
    expect(page.locator("#note")).to_contain_text("Saved")
    text = bench.file.read_text(encoding="utf-8")
    said = tomllib.loads(text)
    assert (said["diver"]["sex"], said["diver"]["height"], said["diver"]["mass"]) == ("male", "181 cm", "84 kg")
    assert said["lead"] == [{"mass": "1 kg", "place": "ankles"}]
    assert text.count("#") > 5  # what the template explains is still there
    page.click("#export")
    page.select_option("#what-output", "sheet pdf")
    assert page.inner_text("#command") == "hangflat sheet student.toml -o student.pdf"
    with page.expect_download() as sheet:
        page.click("#write")
    assert sheet.value.path().read_bytes()[:5] == b"%PDF-"


def test_slide_type_undo_drag_and_be_told_what_is_wrong(visit, served):
    page = visit.page
    place = page.locator("#middle").bounding_box()
    before = page.inner_text("#moment")
    page.click("#add-lead")
    page.select_option("#f-lead-0-place", "ankles")
    expect(page.locator("#moment")).not_to_have_text(before)
    page.fill("#f-diver-height", "166")
    page.press("#f-diver-height", "Tab")
    expect(page.locator("#f-diver-height-wrong")).to_contain_text("has no unit")
    assert page.get_attribute("#f-diver-height", "aria-invalid") == "true"
    page.click("#undo")
    expect(page.locator("#f-diver-height-wrong")).to_be_hidden()
    light = page.inner_text("#moment")
    slide(page, "lead.0.mass", 3)
    expect(page.locator("#f-lead-0-mass")).to_have_value("3 kg")
    expect(page.locator("#moment")).not_to_have_text(light)
    expect(page.locator("#items")).to_contain_text("lead, ankles")
    heavy = page.inner_text("#moment")
    page.click("#pin")
    drag(page, "harness.drop", 40)
    group(page, "Plate and harness")
    assert re.fullmatch(r"[1-9]\d*(\.\d)? cm", page.input_value("#f-harness-drop"))  # footward, so further down
    expect(page.locator("#moment")).not_to_have_text(heavy)
    expect(page.locator("#further")).to_contain_text(re.compile("further head-(up|down) than the pinned one"))
    page.click("#undo")
    expect(page.locator("#moment")).to_have_text(heavy)
    assert page.input_value("#f-harness-drop") == ""
    page.click("#redo")
    expect(page.locator("#moment")).not_to_have_text(heavy)
    assert page.inner_text("#note") == ""
    page.click("#save")
    expect(page.locator("#note")).to_contain_text("Saved")
    assert page.locator("#middle").bounding_box() == pytest.approx(place, abs=0.5)  # px: nothing moved for the note
    saved = tomllib.loads(served.file.read_text(encoding="utf-8"))
    assert saved["lead"] == [{"mass": "3 kg", "place": "ankles"}]
    assert "drop" in saved["harness"]


def drag(page, key, left):
    """Take hold of a grip in the view and move it so many pixels footward, which is to the left from the side."""
    spot = page.evaluate("key => document.getElementById('diver').viewer.spots().find(s => s.key === key)", key)
    page.mouse.move(spot["x"], spot["y"])
    expect(page.locator("#grip")).not_to_have_text("")
    page.mouse.down()
    page.mouse.move(spot["x"] - left / 2, spot["y"], steps=2)
    page.mouse.move(spot["x"] - left, spot["y"], steps=2)
    page.mouse.up()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(visiting, scheme):
    page = visiting(color_scheme=scheme).page
    expect(page.locator("#fit li").first).to_be_visible()
    for summary in page.locator("#form > details > summary").all():
        if summary.evaluate("one => !one.parentElement.open"):
            summary.click()
    page.locator(".more summary").first.click()
    page.click("#pin")
    page.fill("#f-diver-mass", "58")
    page.press("#f-diver-mass", "Tab")
    expect(page.locator("#f-diver-mass-wrong")).to_be_visible()
    assert faults(page) == []
    page.click("#undo")
    for opener, box in (("#files", "#files-box"), ("#export", "#output-box")):
        page.click(opener)
        expect(page.locator(box)).to_be_visible()
        assert faults(page) == []
        page.keyboard.press("Escape")
        expect(page.locator(box)).to_be_hidden()


def test_all_of_it_by_keyboard(visit):
    """From the first key on: to the answers, through the bar, along a slider, turning the view, into a dialog."""
    page = visit.page
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "answers"
    met = set()
    page.evaluate("document.activeElement.blur(); document.body.focus()")
    page.locator("#files").focus()
    for _ in range(120):
        page.keyboard.press("Tab")
        met.add(page.evaluate("(e => e.id || e.name || e.tagName)(document.activeElement)"))
    seen = {"export", "units", "language", "f-diver-height", "f-diver-height-slide", "play", "CANVAS", "pin", "time"}
    assert seen <= met, seen - met
    page.locator("#f-diver-height-slide").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#f-diver-height")).to_have_value("167 cm")
    look = "document.getElementById('diver').viewer.spots()[0].x"
    page.locator("#diver canvas").focus()
    before = page.evaluate(look)
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(look) != before
    page.keyboard.press("Control+z")
    expect(page.locator("#f-diver-height")).to_have_value("166 cm")
    page.locator("#files").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#files-box")).to_be_visible()
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.id") == "files"


def test_a_drawing_dropped_in_becomes_the_plate(visit, served):
    page = visit.page
    page.evaluate(DROP, ["mine.svg", PLATE])
    expect(page.locator("#plate-lines")).to_contain_text("80.0 and 360.0 mm from the top edge")
    assert page.locator("#plate-picture circle").count() == 7
    assert page.evaluate("document.activeElement.id") == "f-plate-thickness"  # asked for
    expect(page.locator("#plate-asks")).to_contain_text("bends")
    page.click("#add-plate-bends")
    expect(page.locator("#plate-asks")).to_be_empty()
    assert page.locator("#plate-picture .fold").count() == 2
    page.evaluate(DROP, ["none.svg", "<svg/>"])
    expect(page.locator(".wrong:visible, #note").filter(has_text="none.svg").first).to_be_visible()
    page.click("#undo")
    page.click("#save")
    expect(page.locator("#note")).to_contain_text("Saved")
    assert tomllib.loads(served.file.read_text(encoding="utf-8"))["plate"]["file"] == "mine.svg"
    assert served.file.with_name("mine.svg").read_text(encoding="utf-8") == PLATE
    page.evaluate(DROP, ["virus.exe", "x"])
    expect(page.locator("#note")).to_contain_text("virus.exe is neither")


def test_two_tabs_a_cut_line_and_a_killed_program_lose_nothing(serving, visiting):
    bench = serving()
    visit = visiting(bench)
    page = visit.page
    before = page.inner_text("#moment")
    page.fill("#f-diver-mass", "61 kg")
    page.press("#f-diver-mass", "Tab")
    expect(page.locator("#moment")).not_to_have_text(before)
    moment = page.inner_text("#moment")

    other = visit.tab()  # takes up what was not saved, and both are told of one another
    expect(other.locator("#f-diver-mass")).to_have_value("61 kg")
    expect(page.locator("#note")).to_contain_text("open in another page")
    other.click("#save")
    expect(other.locator("#note")).to_contain_text("Saved")
    expect(page.locator("#note")).to_contain_text("has been changed")
    page.fill("#f-diver-age", "40 years")
    page.press("#f-diver-age", "Tab")
    page.click("#save")
    expect(page.locator("#note button").first).to_be_visible()  # asked before it is written over
    page.locator("#note button").first.click()
    expect(page.locator("#note")).to_contain_text("Saved")
    assert tomllib.loads(bench.file.read_text(encoding="utf-8"))["diver"]["age"] == "40 years"
    other.close()

    visit.context.set_offline(True)
    page.fill("#f-diver-mass", "70 kg")
    page.press("#f-diver-mass", "Tab")
    expect(page.locator("#note")).to_contain_text("does not answer")
    visit.context.set_offline(False)
    expect(page.locator("#note")).to_contain_text("answers again")
    expect(page.locator("#moment")).not_to_have_text(moment)

    bench.end(signal.SIGKILL)
    page.fill("#f-diver-mass", "58 kg")
    page.press("#f-diver-mass", "Tab")
    expect(page.locator("#note")).to_contain_text("does not answer")
    bench.begin()
    expect(page.locator("#note")).to_contain_text("answers again")
    assert page.input_value("#f-diver-mass") == "58 kg"
    page.reload()
    expect(page.locator("#f-diver-mass")).to_have_value("58 kg")
    bench.end()  # also with a page that waits for an answer
    page.close()
    visit.wrong[:] = [w for w in visit.wrong if not re.search("ERR_(CONNECTION|INTERNET|NETWORK|EMPTY)", w)]


def test_in_german_and_in_feet_and_pounds(visiting):
    page = visiting().page
    page.select_option("#units", "imperial")
    expect(page.locator("#moment")).to_contain_text("lbf ft")
    slide(page, "water.depth", 66)
    page.select_option("#language", "de")
    expect(page.locator("html")).to_have_attribute("lang", "de")
    expect(page.locator("#save")).to_have_text("Speichern")
    expect(page.locator("#moment")).to_have_text(re.compile(r"^\d+,\d lbf ft kopf"))
    expect(page.locator("#answers h2").first).to_have_text("Flach gehalten und reglos")
    expect(page.locator("#fit")).to_contain_text(re.compile("(sitzt|passt)"))
    for english in ("the plate", "waist strap", "valve", "knees"):
        assert english not in page.inner_text("#fit") + str(page.evaluate(GRIPS)), english
    assert faults(page) == []


def test_the_trunk_of_a_photo_and_nothing_of_the_picture_leaves(visit):
    page = visit.page
    sent = []
    page.on("request", lambda asked: sent.append((asked.url, asked.post_data or "")))
    photo = page.evaluate("""() => { const c = document.createElement("canvas"); c.width = 400; c.height = 300;
        c.getContext("2d").fillRect(0, 0, 400, 300); return c.toDataURL("image/png").split(",")[1]; }""")
    import base64

    picture = {"name": "class.png", "mimeType": "image/png", "buffer": base64.b64decode(photo)}
    page.set_input_files("#photo-file", picture)
    expect(page.locator("#photo-box")).to_be_visible()
    box = page.locator("#photo").bounding_box()
    for x, y in ((300, 200), (100, 150), (10, 20), (390, 20)):  # hip, shoulder, water line: 50 up on 200 along
        page.mouse.click(box["x"] + x * box["width"] / 400, box["y"] + y * box["height"] / 300)
    expect(page.locator("#angle")).to_contain_text("14 degrees head-up")
    assert faults(page) == []
    assert all(photo[:60] not in data and len(data) < 20_000 for _, data in sent)
    page.keyboard.press("Escape")
    expect(page.locator("#photo-box")).to_be_hidden()
    expect(page.locator("#photo")).to_have_attribute("width", "1")  # and it is not kept


def test_a_draft_that_cannot_be_built_shows_the_saved_diver_and_what_is_wrong(visiting, served, document):
    faulty = {**document, "pose": {"name": "flat, knees bent", "joints": {"knee flexion": "900 deg"}}}
    mark = served.anew()["mark"]
    assert served.answer("flat", faulty, mark=mark)["problems"]  # kept as the draft
    page = visiting().page  # which waits for the view
    expect(page.locator("#f-pose-joints-knee-flexion-wrong")).to_be_visible()  # though its group begins closed
    expect(page.locator("#held-back")).to_be_visible()
    shown = page.inner_text("#moment")
    assert shown
    status, told = served.ask("save", {"document": faulty, "mark": mark, "base": None, "over": True})
    assert (status, told["problems"][0]["key"]) == (200, "pose.joints.knee flexion")
    assert tomllib.loads(served.file.read_text(encoding="utf-8")) == document  # nothing half written
    page.click("#undo")
    expect(page.locator("#held-back")).to_be_hidden()
    expect(page.locator("#moment")).to_have_text(shown)


def test_a_set_up_by_keyboard_alone_from_nothing_to_a_file(serving, visiting):
    """The focus stays where it is as the form follows what is typed, and what is typed is saved."""
    bench = serving(None)
    page = visiting(bench).page

    def focus():
        return page.evaluate("document.activeElement.id")

    def tab_to(name, key="Tab"):
        for _ in range(120):
            if focus() == name:
                return
            page.keyboard.press(key)
        raise AssertionError(name)

    tab_to("f-diver-height")
    page.keyboard.press("Control+a")
    page.keyboard.type("181 cm")
    page.keyboard.press("Tab")
    assert focus() == "f-diver-height-slide"
    before = page.locator("#form .entry").count()
    tab_to("add-lead")
    page.keyboard.press("Enter")
    expect(page.locator("#form .entry")).to_have_count(before + 1)
    assert focus() == "add-lead"
    tab_to("f-lead-0-place", "Shift+Tab")
    page.keyboard.type("ank")
    assert (focus(), page.input_value("#f-lead-0-place")) == ("f-lead-0-place", "ankles")
    tab_to("f-lead-0-mass", "Shift+Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type("1.5 kg")
    page.keyboard.press("Control+s")
    expect(page.locator("#note")).to_contain_text("Saved")
    assert focus() == "f-lead-0-mass"
    said = tomllib.loads(bench.file.read_text(encoding="utf-8"))
    assert said["diver"]["height"] == "181 cm"
    assert said["lead"][0] == {"mass": "1.5 kg", "place": "ankles"}
    page.fill("#f-diver-mass", "80 kg")
    page.click("#add-lead")  # straight from the field: the press must not be lost as the form follows
    expect(page.locator("#form .entry")).to_have_count(before + 2)
    page.fill("#f-suit-gas", "0 l")  # none at all is an answer, too
    page.press("#f-suit-gas", "Enter")
    expect(page.locator("#freeze")).not_to_have_class("stale")


def test_a_solid_without_a_unit_is_asked_for_it(visit):
    from trimesh.creation import box

    page = visit.page
    text = box((270.0, 400.0, 3.0)).export(file_type="stl_ascii")
    page.evaluate(DROP, ["solid.stl", text])
    expect(page.locator("#f-plate-unit")).to_be_focused()
    expect(page.locator(".field .wrong:visible")).to_contain_text("state the unit")
    page.select_option("#f-plate-unit", "mm")
    expect(page.locator(".field .wrong:visible")).to_contain_text("State both bolts")
    page.click("#undo")
    page.click("#undo")
    expect(page.locator("#held-back")).to_be_hidden()
