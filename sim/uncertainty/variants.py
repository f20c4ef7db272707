"""The same file with one value changed, assembled anew, and the line through the two results."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Final

from meshes.mesh import Floats
from scenarios.by_key import numbers_in
from scenarios.known import Owner
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from sim.assembly.assembled import Assembled
from sim.assembly.other_gas import differ_in_gas_alone, with_other_gas
from sim.assembly.parts_rig import assembled_parts
from sim.assembly.posed_diver import KeptDivers
from sim.assembly.scenario_rig import assembled_scenario
from sim.rig import Rig
from sim.uncertainty.progress import Progress, unheard
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.sampling import Shape
from sim.uncertainty.variates import Said

Told = Scenario | PartsFile
LAID_ON_ONE: Final = 24  # variants of one person in one job: enough to save most bodies, few enough to share out


Situation = Callable[[Scenario], Scenario]


class UnvariedError(ValueError):
    """A spread so wide that a variant cannot be built; ``key`` is what was to be varied."""

    def __init__(self, key: str, message: str) -> None:
        self.key = key
        super().__init__(message)


@dataclass(frozen=True, eq=False)
class Pair:
    """Two variants of a file that lie ``span`` spreads apart, on either side of it.

    shape : of the spread;  owner : what the unknown goes along with; None for what its keys say
    """

    name: str
    basis: str
    plus: Told
    minus: Told
    span: float = 2.0
    shape: Shape = "normal"
    owner: Owner | None = None

    def said(self, told: Told) -> dict[str, Said]:
        """The scenario's values that it changes, and those that its variants state and the file leaves open."""
        plus, minus, stated = numbers_in(self.plus), numbers_in(self.minus), numbers_in(told)
        found = {}
        for key, high in plus.items():
            low = minus.get(key)
            if low is not None and (high != low or key not in stated):
                found[key] = Said(stated.get(key, 0.5 * (high + low)), (high - low) / self.span)
        return found

    def owned_by(self, told: Told) -> Owner:
        """What it goes along with, by the table that it changes unless it says so itself."""
        if self.owner is not None or isinstance(told, PartsFile):
            return self.owner or "rig"
        changed = [f for f in type(told).model_fields if getattr(self.plus, f) != getattr(self.minus, f)]
        owners = {_OWNERS.get(table, "rig") for table in changed}
        return owners.pop() if len(owners) == 1 else "rig"


_OWNERS: Final[dict[str, Owner]] = {"diver": "diver", "suit": "suit", "water": "reading", "pose": "reading"}


def lines_through(pairs: Sequence[Pair], pool: Executor | None = None, done: Progress = unheard) -> list[Floats]:
    """Change (n,) of the rig's numbers for one spread of each pair. Raises UnvariedError where one cannot be.

    done : told the share of the work that is done, 0 to 1
    """
    jobs = _jobs([t for p in pairs for t in (p.plus, p.minus)])
    return _lines(pairs, _worked(jobs, 2 * len(pairs), pool, done))


def lines_in_situations(
    pairs: Sequence[Pair], situations: Sequence[Situation], pool: Executor | None = None, done: Progress = unheard
) -> list[list[Floats]]:
    """Lines of each situation, as ``lines_through`` for pairs of scenarios put into it; each body is built once."""
    told: list[Told] = []
    for pair in pairs:
        for variant in (pair.plus, pair.minus):
            assert isinstance(variant, Scenario)  # a parts file is in no situation
            told += [situation(variant) for situation in situations]
    rows = _worked(_jobs(told), len(told), pool, done)
    return [_lines(pairs, rows[i :: len(situations)]) for i in range(len(situations))]


def _worked(jobs: list[list[Told]], count: int, pool: Executor | None, done: Progress) -> list[Floats | str]:
    rows: list[Floats | str] = []
    for found in map(_rows, jobs) if pool is None else pool.map(_rows, jobs):
        rows += found
        done(len(rows) / max(count, 1))
    return rows


def _lines(pairs: Sequence[Pair], rows: Sequence[Floats | str]) -> list[Floats]:
    lines = []
    for pair, plus, minus in zip(pairs, rows[::2], rows[1::2], strict=True):
        if isinstance(plus, str) or isinstance(minus, str) or plus.shape != minus.shape:
            why = plus if isinstance(plus, str) else minus if isinstance(minus, str) else "the gas cells change"
            raise UnvariedError(pair.name, f"cannot be varied ({pair.basis}): {why}; state a smaller spread")
        lines.append((plus - minus) / pair.span)
    return lines


def _jobs(told: Sequence[Told]) -> list[list[Told]]:
    """Variants in their order, those that follow one another on the same person together: it is built once."""
    jobs: list[list[Told]] = []
    for variant in told:
        if jobs and len(jobs[-1]) < LAID_ON_ONE and _same_person(jobs[-1][0], variant):
            jobs[-1].append(variant)
        else:
            jobs.append([variant])
    return jobs


def _same_person(a: Told, b: Told) -> bool:
    return isinstance(a, Scenario) and isinstance(b, Scenario) and a.diver == b.diver


def _rows(job: Sequence[Told]) -> list[Floats | str]:
    """Numbers of each assembled variant of one person, or why there is none; each pose is taken once."""
    rows: list[Floats | str] = []
    people = KeptDivers()
    laid: list[tuple[Scenario, Assembled]] = []
    for told in job:
        try:
            rows.append(numbers_of(_rig(told, people, laid)))
        except ValueError as error:
            rows.append(str(error))
    return rows


def _rig(told: Told, people: KeptDivers, laid: list[tuple[Scenario, Assembled]]) -> Rig:
    """The rig of a variant; where it differs from one ``laid`` out before in its gas alone, only that is new."""
    if isinstance(told, PartsFile):
        return assembled_parts(told, "").rig
    wearer = people.of(told)
    for other, made in laid:
        if differ_in_gas_alone(other, told):
            return with_other_gas(made, told, wearer.body)
    made = assembled_scenario(told, "", (), wearer)
    laid.append((told, made))
    return made.rig
