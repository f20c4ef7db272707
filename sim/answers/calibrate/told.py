"""What a calibration says, as one object and as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

import numpy as np

from sim.answers.calibrate.calibrate import Calibration
from sim.answers.calibrate.learnt import CARRIES, learnt_lines, tied_pairs
from sim.answers.calibrate.model import as_gaussian
from sim.telling.caution import CAUTION
from sim.telling.lead_words import like_lead
from sim.telling.words import bullets, moment_words, rows, wrapped

FORMAT: Final = "hangflat.calibrate/1"
Object = Mapping[str, Any]
NAMED: Final = 3
WORTH: Final = 0.02  # of the moment's variance: a measurement that takes less is not recommended
POOL_CARE: Final = (
    "Measure in confined water, with a buddy within reach and a qualified instructor who agrees; breathe all the "
    "time, never hold the breath; end a try at once when anything is not as it should be."
)


def calibration_json(answer: Calibration) -> dict[str, Any]:
    """The ``hangflat.calibrate/1`` object; moments N m, plus turns head-up."""
    before, after = answer.band()
    lines = learnt_lines(answer)
    return {
        "format": FORMAT,
        "title": answer.scenario.title or "",
        "scenario": answer.path,
        "measurements": answer.bench.name,
        "measured_on": None if answer.day is None else answer.day.isoformat(),
        "contradicted": answer.found is None,
        "readings": [dict(r) for r in _readings(answer)],
        "pitch_moment_nm": {"band": "5 to 95 %", "before": _band(before), "after": _band(after)},
        "unknowns": [
            {"name": x.name, "owner": x.owner, "before": x.before, "now": x.now, "moved_sd": x.moved,
             "sd_ratio": x.sd_ratio, "share_of_variance_left": x.share, "learnt": x.learnt}
            for x in lines
        ],
        "told_only_together": [
            {"unknowns": [p.one, p.other], "correlation": p.correlation} for p in tied_pairs(answer)
        ],
        "suspects": [{"name": s.name, "amount": s.amount, "weight": s.weight} for s in answer.suspects],
        "next": [{"measurement": n.name, "variance_taken": n.share} for n in answer.next],
        "draws_that_count": None if answer.found is None else answer.found.counts,
        "notes": list(answer.notes),
        "caution": f"{CAUTION} {POOL_CARE}",
    }  # fmt: skip


def _band(band: Any) -> dict[str, float] | None:
    return None if band is None else {k: float(v) for k, v in zip(("p5", "p50", "p95"), band, strict=True)}


def _readings(answer: Calibration) -> Iterator[dict[str, Any]]:
    """Each reading beside what the model expected before and says now."""
    rng = np.random.default_rng(0)
    before = answer.model.predicted(rng.standard_normal((512, answer.model.unknowns)))
    for i, reading in enumerate(answer.model.readings):
        value, sd = as_gaussian(reading, answer.model.law)
        now = None if answer.found is None else float(answer.found.weight @ answer.found.predicted[:, i])
        yield {
            "name": reading.name, "unit": "kg" if reading.kind == "float" else "N m", "measured": value,
            "spread": sd, "spread_assumed": reading.assumed, "expected": float(before[:, i].mean()),
            "expected_sd": float(before[:, i].std()), "now": now, "drift": reading.drift, "time_s": reading.time,
        }  # fmt: skip


def calibration_text(told: Object) -> str:
    """Plain text, at most 100 columns wide."""
    day = f", {told['measured_on']}" if told["measured_on"] else ""
    lines = [*wrapped(_first(told)), ""]
    lines += wrapped(f"Scenario: {told['title']} ({told['scenario']})", "", "  ")
    lines += wrapped(f"Measured: {told['measurements']}{day}", "", "  ")
    lines += _reading_table(told)
    if told["contradicted"]:
        lines += bullets("Contradicted: likeliest broken, taken one by one", _suspected(told))
    else:
        lines += rows("Moment when flat, 5 to 95 %", _band_rows(told))
        lines += rows("Learnt", _learnt(told))
        lines += bullets("Not from this", _not_from_this(told))
        lines += bullets("What would help most next", _next(told))
    lines += bullets("Notes", told["notes"])
    return "\n".join([*lines, "", *wrapped(f"Caution: {told['caution']}", "", "  ")])


def _first(told: Object) -> str:
    if told["contradicted"]:
        return (
            "These measurements contradict the model: together they lie beyond what it can do in 99 of 100 cases. "
            "Nothing was fitted and no file was written."
        )
    before, after = (told["pitch_moment_nm"][k] for k in ("before", "after"))
    was, now = before["p95"] - before["p5"], after["p95"] - after["p5"]
    return (
        f"Learnt: the moment of the diver held flat is now known to {now:.1f} N m, before to {was:.1f} N m "
        f"(5 to 95 %); its middle is {moment_words(after['p50'])}{like_lead(after['p50'])}, before "
        f"{moment_words(before['p50'])}."
    )


def _reading_table(told: Object) -> Iterator[str]:
    yield ""
    yield f"{'':<44}{'measured':>17}{'expected before':>20}{'model now':>14}"
    yield "-" * 95
    for r in told["readings"]:
        unit = r["unit"]
        measured = f"{r['measured']:+.1f} +- {r['spread']:.1f} {unit}"
        expected = f"{r['expected']:+.1f} +- {r['expected_sd']:.1f} {unit}"
        now = "-" if r["now"] is None else f"{r['now']:+.1f} {unit}"
        yield f"{_reading_name(r):<44}{measured:>17}{expected:>20}{now:>14}"


def _reading_name(reading: Object) -> str:
    if reading["name"].startswith("freeze"):
        time = "" if reading["time_s"] is None else f", {reading['time_s']:.1f} s"
        return f"{reading['name']} ({reading['drift']}{time})"
    return str(reading["name"])


def _suspected(told: Object) -> Iterator[str]:
    for s in told["suspects"][:NAMED]:
        yield f"{s['name']}: it would have to be off by {s['amount']} ({100.0 * s['weight']:.0f} % of the weight)"
    yield "Check the file against what was worn, weigh what is worn, and measure again before you believe either."


def _band_rows(told: Object) -> Iterator[tuple[str, str]]:
    for name in ("before", "after"):
        band = told["pitch_moment_nm"][name]
        yield name, f"{moment_words(band['p5'])} to {moment_words(band['p95'])}, middle {moment_words(band['p50'])}"


def _learnt(told: Object) -> Iterator[tuple[str, str]]:
    learnt = [u for u in told["unknowns"] if u["learnt"]]
    for u in learnt:
        yield u["name"], f"{u['now']}; before {u['before']}"
    if not learnt:
        yield "nothing", "no unknown moved by half its spread, or is known much better than before"


def _not_from_this(told: Object) -> Iterator[str]:
    for pair in told["told_only_together"][:NAMED]:
        way = "as much of one as less of the other" if pair["correlation"] < 0.0 else "as much of one as of the other"
        yield f"{' and '.join(pair['unknowns'])} are told only together: {way}"
    left = [u for u in told["unknowns"] if not u["learnt"] and u["share_of_variance_left"] >= CARRIES]
    for u in sorted(left, key=lambda u: -u["share_of_variance_left"])[:NAMED]:
        share = 100.0 * u["share_of_variance_left"]
        yield f"{u['name']}: not told by these; carries {share:.0f} % of what is left open"


def _next(told: Object) -> Iterator[str]:
    worth = [n for n in told["next"] if n["variance_taken"] >= WORTH]
    for i, n in enumerate(worth[:2]):
        share = f"{100.0 * n['variance_taken']:.0f} % of the moment's variance that is left"
        yield f"{n['measurement']}: expected to take {share}" + ("" if i else f". {POOL_CARE}")
    if not worth:
        yield "none of the usual measurements: what is left open lies within what they can tell"
