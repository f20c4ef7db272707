"""One finding on fit: what was looked at, whether it passes, in words, and by how much."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Verdict:
    """A finding.

    subject : what was looked at, e.g. "waist strap"
    passes : None where there is nothing to pass or fail, or it cannot be told
    sentence : the finding in plain words, with its numbers
    margin : how much is left before it fails, below 0 how much is missing [m]
    limit : the threshold and where it comes from
    """

    subject: str
    passes: bool | None
    sentence: str
    margin: float | None = None
    limit: str = ""
