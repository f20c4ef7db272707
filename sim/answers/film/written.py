"""The files of a film: MP4, GIF, a poster frame, subtitles; what is asked for is rendered once for all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack
from pathlib import Path
from typing import Final

import numpy as np

from sim.answers.film.captions import srt, vtt
from sim.answers.film.encoder import Bytes, Mp4, mp4, write_gif
from sim.answers.film.footage import Footage
from sim.answers.film.shots import Shots, shots_of
from sim.drawing.stamp import stamp

MOVING: Final = (".mp4", ".gif")
SUBTITLES: Final = (".srt", ".vtt")
ENDINGS: Final = (*MOVING, ".png", *SUBTITLES)
SAMPLES: Final = 6  # pictures from which a GIF's colours are chosen

Progress = Callable[[float], None]


def write_film(
    footage: Footage, paths: Mapping[str, Path], size: tuple[int, int], progress: Progress = lambda _: None
) -> None:
    """Write each of ``paths``, by its ending among ENDINGS. Captions stand in the pictures unless in subtitles.

    size : (width, height) in pixels, both even;  progress : told the share done, 0 to 1
    Raises NoRendererError, NoEncoderError, and OSError where a file cannot be written.
    """
    for ending, text in ((".srt", srt), (".vtt", vtt)):
        if ending in paths:
            paths[ending].write_text(text(footage.captions), encoding="utf-8", newline="\n")
    if paths.keys() <= set(SUBTITLES):
        return
    burnt = not paths.keys() & set(SUBTITLES)
    with ExitStack() as stack:
        film = stack.enter_context(mp4(paths[".mp4"], size, footage.title)) if ".mp4" in paths else None
        shots = stack.enter_context(shots_of(footage, size, burnt=burnt))
        if ".png" in paths:
            _write_poster(paths[".png"], shots.one(footage.poster))
        if not paths.keys() & set(MOVING):
            return
        pictures = _watched(shots, film, progress)
        if ".gif" in paths:
            count = len(footage.pictures)
            samples = list(shots.some(np.linspace(0, count - 1, SAMPLES).astype(int).tolist()))
            write_gif(paths[".gif"], pictures, samples)
        for _ in pictures:
            pass


def _watched(shots: Shots, film: Mp4 | None, progress: Progress) -> Iterator[Bytes]:
    """Every picture in turn, put into the MP4 on its way."""
    count = len(shots.footage.pictures)
    for number, picture in enumerate(shots.all(), start=1):
        if film is not None:
            film.add(picture)
        progress(number / count)
        yield picture


def _write_poster(path: Path, picture: Bytes) -> None:
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    told = PngInfo()
    for key, value in stamp("png").items():
        told.add_text(key, value)
    Image.fromarray(picture).save(path, format="PNG", pnginfo=told)
