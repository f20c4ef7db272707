"""What a study's folder and each of its blocks say of the study: ``hangflat.study/1``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Annotated, Any, Final

from sim.answers.study.outputs import Output
from sim.telling.made_by import MadeByStudy, recorded
from sim.telling.record import Told, keys_of

FORMAT: Final = "hangflat.study/1"


@dataclass(frozen=True)
class Identity:
    """Hash of each thing that decides a study's numbers; the keys are the words for it."""

    scenario: Annotated[str, Told("with all files it names", key="the scenario")] = ""
    factors: Annotated[str, Told("and their correlations", key="the factors")] = ""
    design: Annotated[str, Told("with number and seed", key="the design")] = ""
    outputs: Annotated[str, Told("that were asked for", key="the outputs")] = ""
    version: Annotated[str, Told("as it is, not a hash", key="the version of hangflat")] = ""

    def others(self, held: Identity) -> list[str]:
        """In words, what differs from that of a folder."""
        words = [key for key, _ in keys_of(Identity)]
        named = zip(words, fields(self), strict=True)
        return [word for word, one in named if getattr(held, one.name) != getattr(self, one.name)]


@dataclass(frozen=True, kw_only=True)
class BlockRecord:
    """What a reader of a block needs to know of where it comes from."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    title: Annotated[str, Told("the study's")]
    version: Annotated[str, Told("of hangflat")]
    scenario: Annotated[str, Told("hash of the scenario", key="scenario_sha256")]
    seed: Annotated[int, Told("of the draws")]
    design: Annotated[str, Told("kind of it")]
    rows: Annotated[int, Told("of the whole study")]
    units: Annotated[Mapping[str, str], Told("of every column", names="<column>")]


@dataclass(frozen=True)
class StudiedInput:
    """An independent input."""

    title: Annotated[str, Told("what to call it")]
    levels: Annotated[int | None, Told("in a grid", none="it is drawn")]
    columns: Annotated[tuple[str, ...], Told("that it gives")]
    labels: Annotated[
        tuple[tuple[str, ...] | None, ...], Told("names of the choices of each column; null for a number")
    ]

    @property
    def by_column(self) -> Iterator[tuple[str, tuple[str, ...] | None]]:
        """Each column with the names of its choices."""
        return zip(self.columns, self.labels, strict=True)


@dataclass(frozen=True, kw_only=True)
class StudyRecord:
    """All that is needed to read the results without the study file; ``number`` : of draws."""

    block: Annotated[BlockRecord, Told("what every block says, too", beside=True)]
    number: Annotated[int, Told("of draws")]
    inputs: Annotated[tuple[StudiedInput, ...], Told("what was varied")]
    outputs: Annotated[tuple[Output, ...], Told("answers of each row")]
    identity: Annotated[Identity, Told("hash of each thing that decides the numbers")]
    made_by: Annotated[MadeByStudy, Told("program and files")]


def record_from(told: Mapping[str, Any]) -> StudyRecord:
    """What ``as_json`` told of a record. Raises KeyError, TypeError, AttributeError for anything else."""
    held = told["identity"]
    block = BlockRecord(
        title=told["title"], version=told["version"], scenario=told["scenario_sha256"], seed=told["seed"],
        design=told["design"], rows=told["rows"], units=dict(told["units"]),
    )  # fmt: skip
    names = [key for key, _ in keys_of(Output)]
    return StudyRecord(
        block=block,
        number=told["number"],
        inputs=tuple(_input(one) for one in told["inputs"]),
        outputs=tuple(Output(*(one[name] for name in names)) for one in told["outputs"]),
        identity=Identity(*(held.get(key, "") for key, _ in keys_of(Identity))),
        made_by=recorded(told.get("made_by", {})),
    )


def _input(told: Mapping[str, Any]) -> StudiedInput:
    labels = tuple(None if names is None else tuple(names) for names in told["labels"])
    return StudiedInput(told["title"], told["levels"], tuple(told["columns"]), labels)
