"""Captions as a subtitle file: SubRip (.srt) or WebVTT (.vtt), which players and browsers lay under a film."""

from __future__ import annotations

from collections.abc import Sequence

from sim.answers.film.footage import Caption


def srt(captions: Sequence[Caption]) -> str:
    """Numbered cues, times with a comma, an empty line after each."""
    return "".join(f"{number}\n{_span(c, ',')}\n{c.text}\n\n" for number, c in enumerate(captions, start=1))


def vtt(captions: Sequence[Caption]) -> str:
    """W3C's format: a header, times with a point; & and < are written as a page has them."""
    return "WEBVTT\n\n" + "".join(f"{_span(c, '.')}\n{_escaped(c.text)}\n\n" for c in captions)


def _span(caption: Caption, point: str) -> str:
    return " --> ".join(_clock(t, point) for t in (caption.start, caption.end))


def _clock(seconds: float, point: str) -> str:
    """As 00:01:02,500."""
    minutes, millis = divmod(round(1000.0 * seconds), 60_000)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02d}:{minutes:02d}:{millis // 1000:02d}{point}{millis % 1000:03d}"


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
