"""How a diver hangs in the water: hangflat from Python.

    import hangflat

    case = hangflat.load("student.toml")
    print(hangflat.settle(case).flat.pitch_moment)  # N m, plus turns head-up
    print(hangflat.settle(case.vary({"plate": "small carbon"})).flat.pitch_moment)

Every answer is a function of a case and comes back as a frozen record: what it holds is read by name, and every
number is in SI units, angles in rad. ``as_json`` makes of it the object that the command of that name prints with
``--json``: there the units stand in the keys, as in ``pitch_moment_nm``, and angles are in degrees. ``hangflat
catalogue fields`` tells what each field means.

Lengths are in body axes: x to the head, y to the diver's left, z to the back, from between the hips. Pitch is plus
head-up, roll is plus left side up, a moment is plus when it turns head-up (lifts the left side), apparent weight is
plus when it sinks.

What cannot be read or built raises ``ScenarioError``, whose text names file, line and key and says what is allowed.

This is a model, not a measurement: check any change of weighting or gear in confined water with a qualified
instructor.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from hangflat.answers import as_json, change, compare, empty, later, load, posture, seen, settle, weigh, why
from hangflat.fitting import fit, hold, plate
from hangflat.measured import calibrate, check_bench, study
from hangflat.written import write_film, write_parts, write_sheet

if TYPE_CHECKING:
    from scenarios.errors import ScenarioError
    from sim.answers.calibrate.answer import CalibrationTold
    from sim.answers.change.answer import ChangeAnswer
    from sim.answers.check_bench.answer import BenchTold
    from sim.answers.compare.compared import Comparison
    from sim.answers.film.answer import FilmAnswer
    from sim.answers.fit.report import FitReport
    from sim.answers.later.answer import LaterAnswer
    from sim.answers.later.empty_answer import EmptyAnswer
    from sim.answers.plate.answer import PlateAnswer
    from sim.answers.plate.hold.told import HoldTold
    from sim.answers.posture.told import PostureAnswer
    from sim.answers.seen.answer import SeenAnswer
    from sim.answers.settle.answer import SettleAnswer
    from sim.answers.study.answer import StudyReport
    from sim.answers.weigh.answer import WeighAnswer
    from sim.answers.why.answer import WhyAnswer
    from sim.case import Case

    __version__: str

__all__ = [
    "BenchTold", "CalibrationTold", "Case", "ChangeAnswer", "Comparison", "EmptyAnswer", "FilmAnswer", "FitReport",
    "HoldTold", "LaterAnswer", "PlateAnswer", "PostureAnswer", "ScenarioError", "SeenAnswer", "SettleAnswer",
    "StudyReport", "WeighAnswer", "WhyAnswer", "__version__", "as_json", "calibrate", "change", "check_bench",
    "compare", "empty", "fit", "hold", "later", "load", "plate", "posture", "seen", "settle", "study", "weigh", "why",
    "write_film", "write_parts", "write_sheet",
]  # fmt: skip
_CLASSES: Final = {
    "Case": "sim.case",
    "ScenarioError": "scenarios.errors",
    "BenchTold": "sim.answers.check_bench.answer",
    "CalibrationTold": "sim.answers.calibrate.answer",
    "ChangeAnswer": "sim.answers.change.answer",
    "Comparison": "sim.answers.compare.compared",
    "EmptyAnswer": "sim.answers.later.empty_answer",
    "FilmAnswer": "sim.answers.film.answer",
    "FitReport": "sim.answers.fit.report",
    "HoldTold": "sim.answers.plate.hold.told",
    "LaterAnswer": "sim.answers.later.answer",
    "PlateAnswer": "sim.answers.plate.answer",
    "PostureAnswer": "sim.answers.posture.told",
    "SeenAnswer": "sim.answers.seen.answer",
    "SettleAnswer": "sim.answers.settle.answer",
    "StudyReport": "sim.answers.study.answer",
    "WeighAnswer": "sim.answers.weigh.answer",
    "WhyAnswer": "sim.answers.why.answer",
}


def __getattr__(name: str) -> Any:
    """What is not needed until it is asked for: the version, as it was installed, and the classes."""
    if name == "__version__":
        from importlib import metadata

        return metadata.version("hangflat")
    if name in _CLASSES:
        from importlib import import_module

        return getattr(import_module(_CLASSES[name]), name)
    raise AttributeError(f"module 'hangflat' has no attribute {name!r}")
