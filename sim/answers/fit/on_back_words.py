"""Where the rig sits, told as findings: each with its margin and the limit it is held against."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.answers.fit import limits
from sim.answers.fit.verdict import Verdict
from sim.answers.fit.waist import waist_margin

if TYPE_CHECKING:
    from sim.answers.fit.on_back import OnBack
    from sim.answers.fit.straps import Crossing


def on_back_verdicts(on: OnBack) -> tuple[Verdict, ...]:
    """Findings from the waist upward, then the width, then what hangs below."""
    found = [_waist_strap(on), _plate_top(on), _hand_on_top(on), _slots(on), _width(on)]
    return (*found, *_lower_end(on), *_buttocks(on))


def _waist_strap(on: OnBack) -> Verdict:
    over_hips = on.crest - (on.waist_strap - limits.STRAP_HALF_WIDTH)
    over_ribs = on.waist_strap + limits.STRAP_HALF_WIDTH - on.tenth_rib
    sentence = f"runs {on.place}; "
    if on.place == "above the waist":
        sentence += _over(over_ribs, "upper", "the ribs")
    elif on.waist_strap < on.crotch:
        sentence += "its middle is below the crotch, where nobody can wear it"
    elif on.place == "on the hips":
        sentence += f"{_over(over_hips, 'lower', 'the hip bones')}, so that ashore the load hangs from the shoulders"
    elif over_hips < 0.0:
        sentence += f"the webbing clears the hip bones by {_cm(over_hips)}"
    else:
        sentence += _over(over_hips, "lower", "the hip bones")
    margin = waist_margin(on.waist_strap, on.crest, on.tenth_rib)
    limit = (
        f"webbing between the hip bones and the lowest rib, here {_cm(on.tenth_rib - on.crest)} apart (common "
        f"practice), or {_cm(limits.STRAP_OVER_BONE)} over either (assumed), more only where it cannot be helped"
    )
    return Verdict("waist strap", on.place == "on the waist", sentence, margin, limit)


def _over(lies: float, end: str, bones: str) -> str:
    """By how much [m] webbing lies over bones, counted from its nearer edge."""
    width = 2.0 * limits.STRAP_HALF_WIDTH
    return f"all the webbing lies over {bones}" if lies >= width else f"its {end} {_cm(lies)} lie over {bones}"


def _plate_top(on: OnBack) -> Verdict:
    below, shoulder = on.c7 - on.top, on.top - on.acromion
    sentence = (
        f"its top is {_cm(below)} {'below' if below >= 0.0 else 'above'} the neck bone (C7) and {_level(shoulder)}"
    )
    margin = below - limits.PLATE_BELOW_C7
    if margin < 0.0:
        sentence += ": the plate is longer than this back is above the waist, or hangs too high"
    limit = (
        f"{_cm(limits.PLATE_BELOW_C7)} or more below the neck bone (C7), so that it does not bar the neck (assumed)"
    )
    return Verdict("plate top", margin >= 0.0, sentence, margin, limit)


def _level(above: float) -> str:
    """Height against the shoulders' bones in words."""
    if abs(above) < 0.005:
        return "level with the shoulders"
    return f"{_cm(above)} {'above' if above > 0.0 else 'below'} the shoulders"


def _hand_on_top(on: OnBack) -> Verdict:
    """A rule of thumb for setting the height: missing it fails nothing, the valves' reach decides."""
    if on.top_touched >= 0.0:
        sentence = f"a hand over the shoulder touches the plate's top edge, with {_cm(on.top_touched)} to spare"
    else:
        sentence = f"a hand over the shoulder stays {_cm(on.top_touched)} short of the plate's top edge: no failing, "
        sentence += "since the valves decide and it is a rule of thumb"
    limit = "a hand over the shoulder touches it: a rule of thumb for the rig's height (common practice)"
    return Verdict("hand on plate", True if on.top_touched >= 0.0 else None, sentence, on.top_touched, limit)


def _slots(on: OnBack) -> Verdict:
    crossing = on.straps.crossing
    if crossing.share > 1.0:
        sentence = "the straps miss the shoulders: the slots are too far apart for this body"
    else:
        sentence = f"they cross {100.0 * crossing.share:.0f} % of the way from neck to shoulder bone, "
        sentence += _edges(crossing)
    limit = (
        "outer edge off the ball of the shoulder joint (common practice), inner edge off the neck (assumed), slots "
        "below the shoulders"
    )
    return Verdict("shoulder straps", crossing.margin >= 0.0, sentence, crossing.margin, limit)


def _edges(c: Crossing) -> str:
    if c.above_slot < 0.0:
        return f"but their slots lie {_cm(c.above_slot)} above the shoulders, from where straps hold nothing down"
    if c.ball < 0.0:
        return f"{_cm(c.ball)} onto the ball of the joint: the slots are far apart for it, and straps slide off"
    if c.inner < limits.STRAP_OFF_NECK:
        return f"their inner edge {_cm(c.inner)} onto the neck: the slots are close together for it"
    return f"{_cm(c.ball)} inside the ball of the joint"


def _width(on: OnBack) -> Verdict:
    margin = min(on.flank, on.armpit) + limits.WIDER_THAN_BACK
    narrow = "between the armpits" if on.armpit < on.flank else "at the flanks"
    if margin >= 0.0:
        sentence = f"the back is wider than the plate, by {_cm(margin)} a side {narrow}, where least"
    else:
        sentence = f"the plate stands out {_cm(margin)} a side {narrow}"
    return Verdict("plate width", margin >= 0.0, sentence, margin, "no wider than the back under it (assumed)")


def _lower_end(on: OnBack) -> tuple[Verdict, ...]:
    """A plate that reaches onto the buttocks; nothing to say of any other."""
    margin = on.bottom - on.buttock - limits.PLATE_ABOVE_BUTTOCKS
    if margin >= 0.0:
        return ()
    sentence = (
        f"its lower end lies {_level_of(on.bottom - on.buttock)} the fullest of the buttocks: it tips when the diver "
        "bends or sits"
    )
    limit = f"{_cm(limits.PLATE_ABOVE_BUTTOCKS)} or more above it (assumed)"
    return (Verdict("plate bottom", False, sentence, margin, limit),)


def _level_of(above: float) -> str:
    return f"{_cm(above)} {'above' if above > 0.0 else 'below'}"


def _buttocks(on: OnBack) -> tuple[Verdict, ...]:
    if on.cylinder_end is None:
        return ()
    limit = f"no more than {_cm(limits.BUTTOCKS_GIVE)} into suit and buttocks, which give so much (assumed)"
    if on.buttocks is None:
        return (Verdict("cylinder bottoms", True, "the cylinders end above the buttocks", None, limit),)
    end = f"they end {_level_of(on.cylinder_end - on.buttock)} the fullest of the buttocks"
    if on.buttocks >= 0.0:
        sentence = f"the cylinders pass {_cm(on.buttocks)} clear of the clothed buttocks; {end}"
    else:
        sentence = f"the cylinders rest on the buttocks, {_cm(on.buttocks)} into suit and flesh; {end}"
    margin = on.buttocks + limits.BUTTOCKS_GIVE
    return (Verdict("cylinder bottoms", margin >= 0.0, sentence, margin, limit),)


def _cm(length: float) -> str:
    """Size of a length [m] as "1.5 cm"."""
    return f"{100.0 * abs(length):.1f} cm"
