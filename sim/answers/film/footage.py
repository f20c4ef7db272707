"""What is filmed: poses of a diver, picture by picture, with the words to them and the curves beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.settled import GasThere, centres
from sim.assembly.assembled import Assembled
from sim.rig import Rig
from sim.telling.language import number
from sim.telling.record import Told

RATE: Final = 25  # pictures a second: what every player and projector shows evenly
WATCHED: Final = 5.0  # s that a diver is watched before and after a correction (assumed: what an instructor takes)
USUAL, QUICKEST = 15.0, 22.0  # letters a second that are read of a subtitle (common practice: 12 to 20; assumed)
BRIEFEST: Final = 1.2  # s that any caption stays (assumed)
LATE: Final = 1.5  # s that a caption may wait for the one before it to be read (assumed)
SOON: Final = (
    2.0  # s after letting go, at which a diver is shown along a choice: turned as far as the moment is large
)
What = Literal["let-go", "emptying", "sweep", "correction"]


@dataclass(frozen=True, eq=False)
class Pose:
    """A diver at one instant.

    diver : its number in the footage;  up : (3,) unit, world's up in body axes
    suit, wing : (cells,) gas [m^3], None without the pocket
    cm, cb : (3,) of the whole with its gas, body axes [m];  weight, push : upward push of the water [N]
    at : where on the curves' axis;  moment : [N m], plus head-up
    pitch : [rad], beyond a right angle past the vertical
    """

    diver: int
    up: Floats
    suit: Floats | None
    wing: Floats | None
    cm: Floats
    cb: Floats
    weight: float
    push: float
    at: float
    moment: float
    pitch: float


@dataclass(frozen=True, eq=False)
class Picture:
    """One picture of the film: a pose, or a share 0..1 of the way to another.

    curve : number of the curve that is traced, and whether its point moves
    """

    pose: Pose
    to: Pose | None = None
    share: float = 0.0
    curve: int = 0

    def mixed(self, one: Floats, other: Floats) -> Floats:
        return np.asarray(one + self.share * (other - one))

    def looks_like(self, other: Picture) -> bool:
        """Whether both show the very same, words apart."""
        return self.pose is other.pose and self.to is other.to is None and self.curve == other.curve

    @property
    def up(self) -> Floats:
        if self.to is None:
            return self.pose.up
        between = self.mixed(self.pose.up, self.to.up)
        return np.asarray(between / max(float(np.linalg.norm(between)), 1e-12))

    def number(self, name: Literal["at", "moment", "pitch", "weight", "push"]) -> float:
        """A number of the pose, straight between two."""
        first = float(getattr(self.pose, name))
        return first if self.to is None else first + self.share * (float(getattr(self.to, name)) - first)

    def centre(self, name: Literal["cm", "cb"]) -> Floats:
        """CM or CB, straight between two poses [m]."""
        first: Floats = getattr(self.pose, name)
        return first if self.to is None else self.mixed(first, getattr(self.to, name))


@dataclass(frozen=True)
class Caption:
    """Words under the picture."""

    start: Annotated[float, Told("from", "s")]
    end: Annotated[float, Told("until", "s")]
    text: Annotated[str, Told("what is said")]


@dataclass(frozen=True, eq=False)
class Curve:
    """What is traced beside the diver, (n,) each: place on the axis, moment [N m], pitch [rad]."""

    at: Floats
    moment: Floats
    pitch: Floats


@dataclass(frozen=True, eq=False)
class Axis:
    """What the curves run along: its words with the unit, and how one place on it is said.

    factor : what a place is multiplied with to be shown in the unit;  digits : behind the point
    """

    words: str
    unit: str
    factor: float = 1.0
    digits: int = 1

    def said(self, at: float) -> str:
        """A place, as "3.2 s"."""
        said = number(at * self.factor, self.digits).replace("-", "\N{MINUS SIGN}")
        return f"{said} {self.unit}".strip()


def digits_for(first: float, last: float) -> int:
    """Digits behind the point that tell apart what lies between two places on an axis."""
    return max(0, 1 - int(np.floor(np.log10(max(abs(last - first), 1e-9)))))


@dataclass(frozen=True, eq=False)
class Footage:
    """A film before it is drawn.

    under : the line under the title;  pace : how film time and the diver's go together, in words
    divers : by number;  held : (3,) body point that stays in place, of the first
    """

    what: What
    title: str
    under: str
    pace: str
    divers: Sequence[Assembled]
    pictures: tuple[Picture, ...]
    captions: tuple[Caption, ...]
    axis: Axis
    curves: tuple[Curve, ...]
    moment_words: str
    pitch_words: str

    @property
    def poster(self) -> int:
        """Number of the picture that stands for the film: where most turns the diver, along a choice the end."""
        if self.what != "let-go":
            return len(self.pictures) - 1
        return int(np.argmax([abs(p.number("moment")) for p in self.pictures]))

    @property
    def seconds(self) -> float:
        return len(self.pictures) / RATE


def pose_of(
    rig: Rig,
    diver: int,
    up: Floats,
    suit: Floats | None,
    wing: Floats | None,
    *,
    at: float,
    moment: float,
    pitch: float,
) -> Pose:
    """A pose, its centres and forces worked out from the rig and its gas."""
    mass, cm, cb = centres(rig, GasThere(suit, wing, 0.0))
    volume = rig.whole.volume + sum(float(v.sum()) for v in (suit, wing) if v is not None)
    gravity = rig.water.gravity
    return Pose(
        diver, up, suit, wing, cm, cb, mass * gravity, rig.water.density * volume * gravity, at, moment, pitch
    )


def pictures_in(seconds: float) -> int:
    """How many pictures a stretch of film takes, at least one."""
    return max(round(seconds * RATE), 1)


def hurried(seconds: float | None, still: float) -> float:
    """Share 0..1 of what is ``still`` [s] in a usual film that is kept in one of ``seconds``: at most half of it."""
    return 1.0 if seconds is None else min(1.0, 0.5 * seconds / still)


def both_stills(first: str, last: str, least: tuple[float, float], seconds: float | None) -> tuple[float, float]:
    """How long the diver is held at the beginning and stays at the end [s], so that what is said there can be read.

    least : of each in a usual film [s];  seconds : of the film, else what it takes; stills are at most half of it
    """
    held, rests = (max(usual, read_in(text)) for usual, text in zip(least, (first, last), strict=True))
    if seconds is None or held + rests <= 0.5 * seconds:
        return held, rests
    share = hurried(seconds, sum(least))
    ends = 0.5 * seconds - share * least[0]
    if ends < read_in(last, quick=True):  # not to be read in any case
        return share * least[0], share * least[1]
    return 0.5 * seconds - min(ends, rests), min(ends, rests)


def eased(count: int) -> Floats:
    """Shares (count,) of the way, slow at both ends, the last of them 1."""
    t = np.arange(1, count + 1) / count
    return np.asarray(t * t * (3.0 - 2.0 * t))


def read_in(text: str, *, quick: bool = False) -> float:
    """Time [s] to read a caption beside what it is about; ``quick`` : at the least."""
    return max(len(text) / (QUICKEST if quick else USUAL), BRIEFEST)


@dataclass(frozen=True)
class Cue:
    """What is to be said from ``start`` [s] on; of two that leave each other no time, the lower ``rank`` is kept."""

    start: float
    text: str
    rank: int = 0


def said_in_turn(cues: Sequence[Cue], seconds: float) -> tuple[Caption, ...]:
    """Captions that can be read, each until the next begins; what leaves no time is not said."""
    kept, begins = list[Cue](), list[float]()
    for cue in sorted(cues, key=lambda c: c.rank):
        more = sorted([*kept, cue], key=lambda c: c.start)
        times = _begins(more)
        late = any(time > c.start + LATE for time, c in zip(times, more, strict=True))
        if not kept or not (late or times[-1] + read_in(more[-1].text, quick=True) > seconds + 0.5 / RATE):
            kept, begins = more, times
    if len(kept) == 1:
        begins = [0.0]
    ends = [*begins[1:], seconds]
    return tuple(Caption(start, end, cue.text) for start, end, cue in zip(begins, ends, kept, strict=True))


def _begins(cues: Sequence[Cue]) -> list[float]:
    """When each is said [s]: once the one before it has been read."""
    found = list[float]()
    free = 0.0
    for cue in cues:
        found.append(max(cue.start, free))
        free = found[-1] + read_in(cue.text, quick=True)
    return found
