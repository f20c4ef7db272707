"""Outlines and gas laid over a made-up render."""

import numpy as np
import pytest

from sim.drawing.ink import GAS_LINE, LINE, Buffers, edges, inked

OVER_GEAR = 0.4  # of the gas's opacity where gear is seen through it

H, W = 40, 60
GREY = (120, 130, 140)
BLUE = (30, 130, 190)


def buffers(**changes):
    """A grey block in the middle, half a metre away in a range of one metre; no gas."""
    number = np.zeros((H, W), dtype=np.int32)
    number[10:30, 20:40] = 1
    made = {
        "colour": np.where(number[..., None] > 0, GREY, 0).astype(np.uint8),
        "depth": np.where(number > 0, 0.5, 1.0).astype(np.float32),
        "number": number,
        "gas": np.zeros((H, W, 3), dtype=np.uint8),
        "veil": np.zeros((H, W), dtype=np.uint8),
        "gas_depth": np.ones((H, W), dtype=np.float32),
        "gear": np.zeros((H, W), dtype=bool),
    }
    return Buffers(**(made | changes))


def with_gas(opacity, gear=False):
    """Gas over the block and 8 pixels about it."""
    veil = np.zeros((H, W), dtype=np.uint8)
    veil[2:38, 12:48] = opacity
    near = np.where(veil > 0, 0.4, 1.0).astype(np.float32)
    blue = np.where(veil[..., None] > 0, BLUE, 0).astype(np.uint8)
    return buffers(gas=blue, veil=veil, gas_depth=near, gear=np.full((H, W), gear))


def test_picture_is_half_the_size_clear_outside_and_inked_round_the_block():
    picture = inked(buffers(), 1.0)
    assert picture.shape == (H // 2, W // 2, 4)
    assert (picture[10, 15] == (*GREY, 255)).all()
    assert picture[0, 0, 3] == 0
    rim = picture[5, 15]
    dark = 0.15 * np.asarray(GREY) + 0.85 * np.asarray(LINE)
    assert rim[:3] == pytest.approx(dark, abs=1.0)  # rounding to whole steps
    assert rim[3] == 255


def test_gas_tints_the_body_by_its_opacity_and_gear_by_less():
    for gear, share in ((False, 100 / 255), (True, OVER_GEAR * 100 / 255)):
        seen = inked(with_gas(100, gear), 1.0)[10, 15, :3]
        assert seen == pytest.approx((1 - share) * np.asarray(GREY) + share * np.asarray(BLUE), abs=1.0)


def test_gas_beside_the_body_shows_against_the_water_with_a_rim():
    picture = inked(with_gas(200), 1.0)
    assert picture[10, 7].tolist() == [*BLUE, 200]
    across = picture[10, :10]
    assert across[:5, 3].tolist() == [0, 0, 0, 0, 0]
    # the rim takes one pixel on either side of the gas's edge, which lies between two pixels of the result
    assert across[5].tolist() == [*GAS_LINE, 128]
    assert across[6, :3] == pytest.approx((255 * np.asarray(GAS_LINE) + 200 * np.asarray(BLUE)) / 455, abs=1.0)


def test_gas_behind_the_body_does_not_show():
    hidden = with_gas(200)
    behind = Buffers(**{**hidden.__dict__, "gas_depth": np.full((H, W), 0.6, dtype=np.float32)})
    assert inked(behind, 1.0)[10, 15].tolist() == [*GREY, 255]


def test_a_slope_is_no_edge_but_a_step_is():
    number = np.ones((1, 30), dtype=np.int32)
    slope = np.linspace(0.0, 1.0, 30)[None, :]  # 3.4 cm a pixel, three times the step that counts
    assert not edges(number, slope).any()
    step = np.where(np.arange(30) < 15, 0.0, 0.05)[None, :]
    assert np.flatnonzero(edges(number, step)).tolist() == [14, 15]
