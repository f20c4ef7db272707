"""What plates are made of, by name: density, stiffness, strength, least bend; each number with its source."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Final, Literal

from scenarios.errors import shortened

MaterialKind = Literal["metal", "laminate", "sandwich", "plastic"]
OTHER: Final = "other"  # a material of the user's own, who states its density or the plate's mass
# the numbers of an entry, and the unit of each
_NUMBERS: Final = {
    "density": "kg/m^3", "stiffness": "GPa", "poisson": "", "strength": "MPa", "least_bend": "times the thickness",
    "skin_mm": "mm", "core_density": "kg/m^3",
}  # fmt: skip


@dataclass(frozen=True)
class Material:
    """A sheet's material; of a sandwich the numbers are those of its skins.

    density : [kg/m^3];  stiffness : Young's modulus [Pa];  poisson : its ratio
    strength : stress [Pa] at which it is spoilt: proof stress of a metal, yield of a plastic, failure of a laminate
    least_bend : least inner radius of a bend, as a multiple of the thickness
    skin : thickness of each skin of a sandwich [m], 0 of others;  core_density : between them [kg/m^3]
    sources : where each number comes from, by the names in the file;  written : the numbers with their units there
    """

    name: str
    aliases: tuple[str, ...]
    kind: MaterialKind
    density: float
    stiffness: float
    poisson: float
    strength: float
    least_bend: float
    skin: float
    core_density: float
    sources: Mapping[str, str]
    written: Mapping[str, str]

    @property
    def summary(self) -> str:
        """Density, stiffness and strength in a line."""
        return ", ".join(self.written[key] for key in ("density", "stiffness", "strength"))

    def core_share(self, thickness: float) -> float:
        """Share of a sheet's thickness [m] that is core; 0 where it is all skin."""
        return max(0.0, 1.0 - 2.0 * self.skin / thickness) if self.skin else 0.0

    def density_of_sheet(self, thickness: float) -> float:
        """Mean density [kg/m^3] of a sheet of ``thickness`` [m]."""
        core = self.core_share(thickness)
        return self.density * (1.0 - core) + self.core_density * core

    def bending_stiffness(self, thickness: float) -> float:
        """Young's modulus [Pa] of the uniform sheet that bends alike; the core's own stiffness is left out."""
        return self.stiffness * (1.0 - self.core_share(thickness) ** 3)

    def bending_strength(self, thickness: float) -> float:
        """Stress [Pa] at the face of that uniform sheet at which the skin has its strength."""
        return self.strength * (1.0 - self.core_share(thickness) ** 3)


@cache
def materials() -> Mapping[str, Material]:
    """All materials, by name."""
    text = files("scenarios").joinpath("materials.toml").read_text(encoding="utf-8")
    return MappingProxyType({name: _read(name, raw) for name, raw in tomllib.loads(text).items()})


def material(name: str) -> Material:
    """The material of that name or alias, whatever its case. Raises ValueError with the nearest."""
    wanted = " ".join(name.lower().split())
    by_name = _by_every_name()
    if wanted in by_name:
        return by_name[wanted]
    # "stainless steel" for "steel"
    near = [n for n in by_name if wanted in n.split()][:1] or difflib.get_close_matches(wanted[:60], by_name, n=1)
    meant = f'did you mean "{by_name[near[0]].name}"? ' if near else ""
    raise ValueError(
        f'"{shortened(name)}" is not known here; {meant}hangflat catalogue materials lists all, and "{OTHER}" is one '
        "whose density you state"
    )


def checked_material(name: str) -> str:
    """The name as written, once it is known or "other"; raises ValueError otherwise."""
    if name != OTHER:
        material(name)
    return name


@cache
def _by_every_name() -> Mapping[str, Material]:
    return {n.lower(): m for m in materials().values() for n in (m.name, *m.aliases)}


def _read(name: str, raw: Mapping[str, Any]) -> Material:
    number = {key: float(raw[key]["value"]) if key in raw else 0.0 for key in _NUMBERS}
    return Material(
        name=name,
        aliases=tuple(raw["aliases"]),
        kind=raw["kind"],
        density=number["density"],
        stiffness=1e9 * number["stiffness"],
        poisson=number["poisson"],
        strength=1e6 * number["strength"],
        least_bend=number["least_bend"],
        skin=1e-3 * number["skin_mm"],
        core_density=number["core_density"],
        sources=MappingProxyType({key: raw[key]["source"] for key in _NUMBERS if key in raw}),
        written=MappingProxyType(
            {key: f"{raw[key]['value']:g} {unit}".strip() for key, unit in _NUMBERS.items() if key in raw}
        ),
    )
