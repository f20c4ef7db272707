"""One finding on fit: what was looked at, whether it passes, in words, and by how much."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from sim.telling.record import Told


@dataclass(frozen=True)
class Verdict:
    """A finding."""

    subject: Annotated[str, Told('what was looked at, e.g. "waist strap"')]
    passes: Annotated[bool | None, Told("whether it passes", none="there is nothing to pass or fail")]
    sentence: Annotated[str, Told("the finding in words")]
    margin: Annotated[
        float | None, Told("what is left before it fails, below 0 what is missing", "m", none="none in m")
    ] = None
    limit: Annotated[str, Told("the threshold with its source")] = ""
