"""From a study file to a job."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator, Mapping
from importlib import metadata
from pathlib import Path
from typing import Any

from scenarios.by_key import with_values
from scenarios.study_reading import LoadedStudy, read_study
from sim.answers.study.independent import inputs_of
from sim.answers.study.job import Job
from sim.answers.study.outputs import OUTPUTS
from sim.answers.study.parts_model import PartsModel, can_be_arrays
from sim.answers.study.plan import Plan
from sim.answers.study.record import Identity
from sim.answers.study.rig_model import RigModel
from sim.telling.made_by import MadeByStudy, made_by_study, origin


def job_from_file(path: str | os.PathLike[str], *, whole: bool = False) -> Job:
    """The study of a file, ready to be run; its record holds the ``whole`` scenario if that is asked for.

    Raises ScenarioError for a file that cannot be used.
    """
    loaded = read_study(path)
    design = loaded.study.design
    inputs = inputs_of(loaded.axes, loaded.correlations)
    plan = Plan(design.kind, inputs, design.number or 1, design.seed)
    outputs = tuple(OUTPUTS[name] for name in dict.fromkeys(loaded.study.outputs))
    single = RigModel(loaded.base, inputs, tuple(o.column for o in outputs))
    arrays = not loaded.has_person and can_be_arrays(inputs)
    return Job(
        title=loaded.study.title or Path(loaded.name).stem,
        plan=plan,
        model=PartsModel(single) if arrays else single,
        outputs=outputs,
        identity=_identity(loaded),
        made_by=_made_by(loaded, whole),
    )


def _made_by(loaded: LoadedStudy, whole: bool) -> MadeByStudy:
    """The scenario as it is before anything is varied, and the study less what that says."""
    study, place = loaded.study, Path(loaded.name)
    varied = with_values(study, {"base": "", "set": {}})
    base = origin(loaded.base.content, loaded.base.file.path, whole=whole)
    return made_by_study([base], origin(varied, place))


def _identity(loaded: LoadedStudy) -> Identity:
    """Hash of each thing that decides the numbers."""
    study = loaded.study.model_dump(mode="json")
    document = dict(loaded.base.document)
    base = {"document": document, "files": dict(_files(document, loaded.base.file.path.parent))}
    return Identity(
        scenario=hashed(base),
        factors=hashed([study["factor"], study["correlation"]]),
        design=hashed(study["design"]),
        outputs=hashed(study["outputs"]),
        version=metadata.version("hangflat"),
    )


def hashed(value: Any) -> str:
    """SHA-256 of anything that JSON can hold."""
    return hashlib.sha256(json.dumps(value, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


def _files(table: Any, folder: Path) -> Iterator[tuple[str, str]]:
    """Hash of each drawing that the scenario names, by name."""
    if isinstance(table, Mapping):
        name = table.get("file")
        if isinstance(name, str) and (folder / name).is_file():
            yield name, hashlib.sha256((folder / name).read_bytes()).hexdigest()
        for value in table.values():
            yield from _files(value, folder)
    elif isinstance(table, list):
        for value in table:
            yield from _files(value, folder)
