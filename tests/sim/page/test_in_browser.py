"""The bench as people meet it, in a real browser; where no Chromium is found, these tests are told as skipped."""

from __future__ import annotations

import tomllib

from playwright.sync_api import expect


def slide(page, key, value):
    """Slide a field's slider to a value, as a hand would, and let go of it."""
    page.evaluate(
        """([id, value]) => { const s = document.getElementById(id); s.value = value;
        s.dispatchEvent(new Event("input")); s.dispatchEvent(new Event("change")); }""",
        [f"f-{key.replace('.', '-')}-slide", value],
    )


def test_a_newcomer_sets_up_slides_undoes_and_saves(visit, served):
    page = visit.page
    before = page.inner_text("#moment")
    page.click("#add-lead")
    page.select_option("#f-lead-0-place", "ankles")
    expect(page.locator("#moment")).not_to_have_text(before)
    page.fill("#f-diver-height", "166")
    page.press("#f-diver-height", "Tab")
    expect(page.locator("#f-diver-height-wrong")).to_contain_text("has no unit")
    page.click("#undo")
    expect(page.locator("#f-diver-height-wrong")).to_be_hidden()
    slide(page, "lead.0.mass", 3)
    expect(page.locator("#f-lead-0-mass")).to_have_value("3 kg")
    expect(page.locator("#items")).to_contain_text("lead, ankles")
    page.click("#save")
    expect(page.locator("#note")).to_contain_text("Saved")
    assert tomllib.loads(served.file.read_text(encoding="utf-8"))["lead"] == [{"mass": "3 kg", "place": "ankles"}]
