r"""The causes of an attitude, and what each does. One cause at a time: two at once are not looked for.

Every diver is drawn from the file's own unknowns, as for the bands of ``settle``, and wants to lie flat, give or take
3 degrees. Posture makes up some of what turns them (half to all of what ``hangflat posture`` says); the rest, R,
turns them. Who fins kicks back against a share of R, and lies as one does between two kicks, at the same share of a
glide each time; who is still is seen 2 to 6 s after stopping. Feet that are heavy sag, feet that are light rise.
Besides, by cause:

    balance           nothing: the unknowns of the file are all there is.
    sight             the head does not lift far enough to see ahead (gear, neck and eyes drawn from what is published
                      of them, as in ``fit``): the trunk is lifted by most of what is missing, the legs stay behind.
    over-correction   the feet are light, and the diver presses them down while finning: by more than it takes, with
                      the legs dropped. Who stops does so no longer.
    gas               0.5 to 3 l of gas too many in the suit, which lie in the feet or in the shoulders. Gaiters let a
                      fifth of it into the feet; a suit that is vented lets most of it go.
    lead or gas       the lead is other than told (2 kg SD, its place 10 cm), or the gas in the cylinders (50 bar SD).
    rig high          the rig hangs 2 to 8 cm higher than told, which moves the moment, and the cylinders behind the
                      head: the trunk is lifted as for ``sight``.

Each is believed alike before anything is seen, but for those that this diver can hardly have: a cause counts by the
share of drawn divers in whom it can be at work. All widths and shares are assumed; there is no count of causes
anywhere that could be found.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians
from types import MappingProxyType
from typing import Final, Literal

from sim.said import word

CauseName = Literal["balance", "sight", "over-correction", "gas", "lead or gas", "rig high"]

# ---- of every diver, all assumed unless said --------------------------------------------------------------------
FLAT_SD: Final = radians(3.0)  # how flat divers lie who believe that they do
POSTURE_USED: Final = (0.5, 1.0)  # of what posture can make up
KICKED_AGAINST: Final = (0.3, 1.0)  # of what is left, by the fins
KICK_MOMENT: Final = (5.0, 20.0)  # N m, the most that fins hold: 10 to 20 N about half a metre to a metre behind
GLIDE: Final = (0.5, 2.5)  # s since the last kick in which they lie as they are seen to lie
STOPPED: Final = (2.0, 6.0)  # s since they stopped when they are seen
FEET_SAG: Final = (0.0, radians(2.0))  # rad of dropped legs for each N m of R
LEGS: Final = (radians(-10.0), radians(40.0))  # how far legs rise and drop
# ---- what is read -----------------------------------------------------------------------------------------------
READ_SD: Final = radians(5.0)  # an attitude by eye
FINS_EDGE: Final = (-0.1, 0.2)  # m over the hips: below it the fins are down, above it up
FINS_SD: Final = 0.1  # m, by eye
TIME_SD: Final = 0.25  # of a time, as a share: half a second in two to five, and the model's own motion
# ---- by cause ---------------------------------------------------------------------------------------------------
LIGHT: Final = -2.0  # N m: feet that are lighter than this are felt
SHORT_OF_SIGHT: Final = radians(3.0)  # that trunks are lifted for
LIFTED: Final = (0.7, 1.0)  # of what is missing to see ahead
LEGS_STAY: Final = radians(15.0)  # how far the legs stay level behind a lifted trunk
NECK_SD: Final = radians(8.5)  # AAOS, 20 to 29 years, as in ``fit``
OVERDONE: Final = (1.3, 3.0)  # times what it takes
PRESS_MOMENT: Final = (10.0, 30.0)  # N m, the most that is kicked down with
PRESSED_LEGS: Final = (radians(15.0), radians(45.0))  # how far legs are dropped to kick down
GAS_TOO_MANY: Final = (0.5e-3, 3e-3)  # m^3
PAST_GAITERS: Final = 0.2  # of it
VENTED: Final = (0.6, 1.0)  # of it, by a diver who is told to
LEAD_SD: Final = 2.0  # kg
LEAD_PLACE_SD: Final = 0.10  # m
PRESSURE_SD: Final = 5e6  # Pa
FULL: Final = 3e7  # Pa, the most that a cylinder is taken to hold
RAISED: Final = (0.02, 0.08)  # m
FELT_FULL: Final = 3.5e-3  # m^3 in both lower legs that a hand finds full; undergarments alone hold 1.5 to 3 there
FELT_SD: Final = 0.4  # of the logarithm of what the model has there (assumed)
COMES_DOWN: Final = 0.02  # m that a rig comes down before a buddy says that it does


@dataclass(frozen=True)
class Cause:
    """A cause in words: as a finding, what an instructor sees of it, and what mends it."""

    name: CauseName
    finding: str
    why: str
    mend: str


CAUSES: Final[Mapping[CauseName, Cause]] = MappingProxyType(
    {
        cause.name: cause
        for cause in (
            Cause(
                word("balance"),
                word("the balance of what is worn"),
                word("nothing is otherwise than told: weights and gas alone turn them"),
                word("see which item it is (why), and what to move (change)"),
            ),
            Cause(
                word("sight"),
                word("the head does not lift far enough to see ahead"),
                word("they lift the trunk to see where they go"),
                word("bring cylinders and first stages lower, or look for more room at the neck (fit)"),
            ),
            Cause(
                word("over-correction"),
                word("kicks down against light feet"),
                word("the feet are light; they press them down, and by more than it takes"),
                word("make the feet heavier or take gas out of them first; then the kick mends itself"),
            ),
            Cause(
                word("gas"),
                word("too much gas in the suit"),
                word("it has gone to one end and holds it up"),
                word("vent the suit, upright first; for the feet gaiters or a closer boot"),
            ),
            Cause(
                word("lead or gas"),
                word("lead or cylinder gas other than told"),
                word("what is worn does not weigh what the file says, or sits elsewhere"),
                word("weigh the lead, look where it sits, read the gauge; then put it right in the file"),
            ),
            Cause(
                word("rig high"),
                word("the rig hangs higher than told"),
                word("cylinders and plate sit nearer the head, and stop it from lifting"),
                word("lengthen the shoulder straps, tighten the crotch strap"),
            ),
        )
    }
)
