"""The trunk's angle from four clicks, and what two frames of a film measure."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.page.measured import freeze_of, measured_text
from sim.page.trunk_angle import trunk_angle

SLANTED = st.floats(-55.0, 55.0)


@given(st.floats(-85.0, 85.0), SLANTED, st.booleans(), st.sampled_from(["level", "plumb"]))
def test_a_trunk_drawn_at_an_angle_is_found_in_a_slanted_picture_too(pitch, tilt, to_the_left, kind):
    """The diver in a picture whose own level is turned by ``tilt``, looking either way."""
    along = math.radians(tilt)
    level, up = (math.cos(along), math.sin(along)), (math.sin(along), -math.cos(along))  # y down
    ahead, risen = math.cos(math.radians(pitch)) * (-1 if to_the_left else 1), math.sin(math.radians(pitch))
    hip = (500.0, 400.0)
    shoulder = tuple(hip[k] + 200.0 * (ahead * level[k] + risen * up[k]) for k in range(2))
    way = level if kind == "level" else up
    line = tuple((100.0 + far * way[0], 100.0 + far * way[1]) for far in (0.0, 300.0))
    found = trunk_angle(hip, shoulder, line, kind)
    assert found.pitch == pytest.approx(pitch, abs=1e-9)
    assert trunk_angle(hip, shoulder, line[::-1], kind).pitch == pytest.approx(pitch, abs=1e-9)


def test_a_slip_matters_the_more_the_nearer_the_points_are():
    line = ((0.0, 0.0), (400.0, 0.0))
    far, near = (trunk_angle((0.0, 0.0), (long, 0.0), line, "level").slip for long in (300.0, 30.0))
    assert near > 5.0 * far


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (((0, 0), (1, 1), (0, 0), (9, 0)), "hip and shoulder lie on one another"),
        (((0, 0), (90, 0), (5, 5), (5, 5)), "the line lie on one another"),
        (((0, 0), (90, 0), (0, 0), (0, 90)), "more than 60 degrees"),
        (((0, 0), (math.nan, 0), (0, 0), (90, 0)), "two numbers"),
    ],
)
def test_clicks_that_say_nothing_are_told(points, said):
    hip, shoulder, *line = points
    with pytest.raises(ValueError, match=said):
        trunk_angle(hip, shoulder, tuple(line), "level")


def frame(time, pitch):
    return {"time": time, "pitch": pitch}


def test_two_frames_make_a_freeze_test_in_either_order():
    assert freeze_of([frame(1.0, 2.0), frame(4.5, 31.0)]) == ("head-up", 3.5)
    assert freeze_of([frame(4.5, -28.0), frame(1.0, 0.0)]) == ("head-down", 3.5)


@pytest.mark.parametrize(
    "frames",
    [
        [frame(1.0, 0.0)],
        [frame(1.0, 20.0), frame(4.0, 50.0)],  # did not begin flat
        [frame(1.0, 0.0), frame(4.0, 12.0)],  # has not turned far
        [frame(1.0, 0.0), frame(1.0, 30.0)],  # in no time
        [frame(1.0, math.nan), frame(4.0, 30.0)],
    ],
)
def test_frames_that_make_none(frames):
    assert freeze_of(frames) is None


def test_the_file_of_it_is_one_that_calibrate_reads(tmp_path):
    from sim.answers.check_bench.bench_file import read_bench

    place = tmp_path / "measured.toml"
    place.write_text(measured_text('a "named" diver.toml', "head-down", 3.4), encoding="utf-8")
    read = read_bench(place).bench
    assert read.freeze is not None
    assert (read.freeze.drift, read.freeze.time) == ("head-down", 3.4)
    assert read.scenario == 'a "named" diver.toml'
