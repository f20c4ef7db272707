"""Pictures into a film file: MP4 (H.264, yuv420p, which everything plays) or GIF (which slides and letters take).

MP4 by PyAV, FFmpeg as a wheel, 37 MB to download: one process, errors of the disk as Python's own. Its own licence
is BSD; the FFmpeg in its wheels holds x264 and is under the GPL, so that it is an extra, installed beside hangflat
and no part of it. That licence binds who hands on the program; films made with it are their makers'.
(imageio-ffmpeg, the other one, is a program of 165 MB to talk to through a pipe.) GIF by Pillow, which is there.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from itertools import islice
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.extra_packages import how_to_get, pip_install
from sim.answers.film.footage import RATE
from sim.drawing.stamp import stamp

if TYPE_CHECKING:
    from PIL.Image import Image

Bytes = NDArray[np.uint8]
GIF_EVERY: Final = 2  # of the film's pictures: GIF grows with each, and counts hundredths of a second
GIF_SMALLER: Final = 2  # times, each way
GIF_AT_ONCE: Final = 50  # frames, 25 MB at 1920 x 1080; the first of each such part is whole
GIF_ENDS: Final = b";"
COLOURS: Final = 255  # of a GIF, and one more for what stays from picture to picture
QUALITY: Final = "20"  # x264's constant rate factor: no difference seen from 17 on, and letters clean at 20 (by eye)
LOOKED_AHEAD: Final = "10"  # pictures; 30, as it comes, take 140 MB more at 1920 x 1080, for a file no smaller
BT709: Final = 1  # what FFmpeg calls the colours of high-definition video, which players take for granted


class NoEncoderError(Exception):
    """PyAV is not there; the message says how to get it."""


def encoder() -> ModuleType:
    """PyAV. Raises NoEncoderError where it is not there, or knows no H.264."""
    try:
        import av
    except ImportError:
        raise NoEncoderError(
            "an MP4 needs PyAV (the package av), which is not installed; name a .gif instead, or "
            f"{how_to_get('film')}"
        ) from None
    if "libx264" not in av.codecs_available:
        raise NoEncoderError(
            "the PyAV that is installed cannot write H.264 (it lacks libx264); get the wheel with: "
            f"{pip_install()} --force-reinstall --only-binary :all: av"
        )
    return av


@contextmanager
def mp4(path: Path, size: tuple[int, int], title: str) -> Iterator[Mp4]:
    """An MP4 that begins with its index, so that it plays while it is being fetched.

    size : (width, height) in pixels, both even
    Raises NoEncoderError.
    """
    av: Any = encoder()
    with av.open(str(path), "w", format="mp4", options={"movflags": "+faststart", "fflags": "+bitexact"}) as film:
        film.metadata.update({"title": title, **stamp("mp4")})
        stream = film.add_stream(
            "libx264", rate=RATE,
            options={"crf": QUALITY, "preset": "fast", "tune": "animation", "rc-lookahead": LOOKED_AHEAD},
        )  # fmt: skip
        stream.width, stream.height, stream.pix_fmt = *size, "yuv420p"
        context = stream.codec_context
        context.time_base = Fraction(1, RATE)
        context.colorspace = context.color_primaries = context.color_trc = BT709
        context.color_range = 1
        yield Mp4(av, film, stream)
        for packet in stream.encode():
            film.mux(packet)


class Mp4:
    """Takes pictures (h, w, 3) in turn."""

    def __init__(self, av: Any, film: Any, stream: Any) -> None:
        self._av, self._film, self._stream = av, film, stream

    def add(self, picture: Bytes) -> None:
        frame = self._av.VideoFrame.from_ndarray(picture, format="rgb24")
        frame = frame.reformat(format="yuv420p", dst_colorspace="ITU709", dst_color_range="MPEG")
        for packet in self._stream.encode(frame):
            self._film.mux(packet)


def write_gif(path: Path, pictures: Iterator[Bytes], samples: Sequence[Bytes]) -> None:
    """A GIF of every second picture, half as large, in one palette that follows from ``samples``."""
    from PIL import Image

    palette = Image.fromarray(np.concatenate([np.asarray(_smaller(s)) for s in samples]))
    palette = palette.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, kmeans=1)
    frames = (
        _smaller(p).quantize(palette=palette, dither=Image.Dither.NONE) for p in islice(pictures, 0, None, GIF_EVERY)
    )
    with path.open("wb") as file:
        while batch := list(islice(frames, GIF_AT_ONCE)):
            begun = file.tell() > 0
            data = _gif_of(batch, {} if begun else {"loop": 0})
            file.write(data[_gif_head(data) :] if begun else data)
        file.write(GIF_ENDS)


def _gif_of(frames: Sequence[Image], how: dict[str, Any]) -> bytes:
    """A GIF without its last byte. Pillow holds all frames of one until it is written, hence some at a time."""
    written = io.BytesIO()
    frames[0].save(
        written, format="GIF", save_all=True, append_images=frames[1:], optimize=False, disposal=1,
        duration=1000 * GIF_EVERY // RATE, **how,
    )  # fmt: skip
    return written.getvalue().removesuffix(GIF_ENDS)


def _gif_head(data: bytes) -> int:
    """Where the frames begin (GIF89a, 17 to 19): behind signature, screen and palette, the same in all parts."""
    return 13 + 3 * (2 << (data[10] & 7))


def _smaller(picture: Bytes) -> Image:
    from PIL import Image

    return Image.fromarray(picture).reduce(GIF_SMALLER)
