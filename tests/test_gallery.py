"""The gallery: each picture has its command; opt-in, what is drawn now looks like what is kept.

The second takes minutes: HANGFLAT_GALLERY=1 python3 scripts/check.py -k gallery
"""

import importlib.util
import io
import os
import shlex
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter

from sim.commands.command_line import app

ROOT = Path(__file__).parents[1]
ALIKE = 0.92  # of structural similarity: another renderer's shades pass, a label moved or a limb turned does not


def gallery_script():
    found = importlib.util.spec_from_file_location("gallery", ROOT / "scripts" / "gallery.py")
    made = importlib.util.module_from_spec(found)
    sys.modules["gallery"] = made
    found.loader.exec_module(made)
    return made


gallery = gallery_script()


def luminance(kept):
    """(h, w) 0..1 at 600 pixels across, about what is seen of it on a page."""
    with Image.open(io.BytesIO(kept)) as picture:
        small = picture.convert("L").resize((600, round(600 * picture.height / picture.width)))
    return np.asarray(small, dtype=float) / 255.0


def likeness(one, other):
    """Mean structural similarity (Wang et al. 2004, IEEE TIP 13:600), its window and constants."""
    blur = lambda a: gaussian_filter(a, 1.5)  # noqa: E731
    x, y = blur(one), blur(other)
    xx, yy, xy = blur(one * one) - x * x, blur(other * other) - y * y, blur(one * other) - x * y
    c1, c2 = 0.01**2, 0.03**2
    return float((((2 * x * y + c1) * (2 * xy + c2)) / ((x * x + y * y + c1) * (xx + yy + c2))).mean())


def test_likeness_is_one_for_the_same_and_falls_with_a_change():
    board = np.indices((120, 160)).sum(axis=0) // 8 % 2 * 1.0
    assert likeness(board, board) == pytest.approx(1.0, abs=1e-12)  # rounding
    moved = board.copy()
    moved[20:60, 20:60] = 1.0 - moved[20:60, 20:60]
    assert likeness(board, moved) < ALIKE
    assert likeness(board, gaussian_filter(board, 0.3)) > ALIKE


def test_every_picture_is_there_small_listed_and_by_a_command_that_exists():
    page = (ROOT / ".pictures" / "README.md").read_text(encoding="utf-8")
    assert page == gallery.listed()
    for picture in gallery.GALLERY:
        kept = ROOT / ".pictures" / picture.file
        assert kept.stat().st_size < 500_000, kept.name
        app.parse_args(gallery.arguments(picture, "a.png"), exit_on_error=False, print_error=False)
        assert all(Path(ROOT / w).exists() for w in shlex.split(picture.command) if w.endswith(".toml"))


@pytest.mark.skipif(not os.environ.get("HANGFLAT_GALLERY"), reason="opt-in: HANGFLAT_GALLERY=1, some minutes")
@pytest.mark.parametrize("picture", gallery.GALLERY, ids=lambda p: p.name)
def test_what_is_drawn_now_looks_like_what_is_kept(picture, tmp_path):
    kept = (ROOT / ".pictures" / picture.file).read_bytes()
    now = gallery.small(picture, gallery.drawn(picture, tmp_path))
    assert likeness(luminance(kept), luminance(now)) > ALIKE
