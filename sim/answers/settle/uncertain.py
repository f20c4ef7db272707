"""How sure the answers are, as it is told: ``uncertain`` of ``settle --uncertain``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Final

from sim.telling.record import Told

if TYPE_CHECKING:
    from sim.uncertainty.shares import Share
    from sim.uncertainty.uncertain_settle import Band, UncertainAnswer

NAMED: Final = 3  # unknowns that a report names


@dataclass(frozen=True)
class ToldBand:
    """The answer as told, and what it may be; infinite for a pitch past the vertical."""

    told: Annotated[float, Told("as told without a band", none="past the vertical")]
    p5: Annotated[float, Told("5 % of the draws are below", none="past the vertical")]
    p50: Annotated[float, Told("half of the draws are below", none="past the vertical")]
    p95: Annotated[float, Told("95 % of the draws are below", none="past the vertical")]


@dataclass(frozen=True)
class Unknown:
    """An unknown's part in the spread of the moment."""

    name: Annotated[str, Told("what is not known")]
    spread: Annotated[str, Told("how far it may be otherwise, and why")]
    share_of_variance: Annotated[float, Told("of the moment's variance, 0 to 1", "1")]
    band_saved_if_known: Annotated[float, Told("by how much the moment's band would be narrower, 0 to 1", "1")]


@dataclass(frozen=True)
class Uncertain:
    """Bands of the answers and the unknowns behind that of the moment."""

    samples: Annotated[int, Told("how many draws")]
    band: Annotated[str, Told("what the bands span")]
    pitch_moment: Annotated[ToldBand, Told("the trimming moment", "N m")]
    pitch_stiffness: Annotated[ToldBand, Told("when flat", "N m/rad")]
    wing_gas: Annotated[ToldBand, Told("in the wing", "l")]
    turned_to_pitch: Annotated[ToldBand, Told("where the turning from flat ends, roll held", "deg")]
    share_over_head_up: Annotated[float, Told("of the draws that turn head-up past the vertical, 0 to 1", "1")]
    share_over_head_down: Annotated[float, Told("of the draws that turn head-down past it, 0 to 1", "1")]
    matter_most: Annotated[tuple[Unknown, ...], Told("the first of the unknowns")]
    unknowns: Annotated[tuple[Unknown, ...], Told("each, most important first")]
    body_measures_together: Annotated[Unknown | None, Told("all measures that were not given", none="none")]
    notes: Annotated[tuple[str, ...], Told("sentences on these bands")]


def uncertain_told(answer: UncertainAnswer) -> Uncertain:
    """Bands and unknowns as they are told."""
    ranked = [s for s in answer.unknowns if not s.together]
    together = [s for s in answer.unknowns if s.together]
    return Uncertain(
        samples=answer.samples,
        band="5 to 95 %",
        pitch_moment=_band(answer.moment),
        pitch_stiffness=_band(answer.stiffness),
        wing_gas=_band(answer.wing_gas),
        turned_to_pitch=_band(answer.pitch),
        share_over_head_up=answer.over_head_up,
        share_over_head_down=answer.over_head_down,
        matter_most=tuple(_unknown(s) for s in ranked[:NAMED] if s.share > 0.0),
        unknowns=tuple(_unknown(s) for s in ranked),
        body_measures_together=_unknown(together[0]) if together else None,
        notes=tuple(answer.notes),
    )


def _band(band: Band) -> ToldBand:
    return ToldBand(band.told, band.low, band.middle, band.high)


def _unknown(share: Share) -> Unknown:
    return Unknown(share.name, share.basis, share.share, share.band_saved)
