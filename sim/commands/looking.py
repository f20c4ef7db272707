"""Options of a picture: from where, which layers, how large, in which look."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Annotated, Final, Literal, cast

from cyclopts import Parameter

from sim.commands.console import UsageError

if TYPE_CHECKING:
    from sim.drawing.sheet_options import Chosen, Layer

View = Literal["side", "front", "top", "three-quarter", "all"]
LAYERS: Final = ("arrows", "gas", "horizon", "arc", "fit", "reach", "sight")
USUAL: Final = "arrows,gas,horizon,arc"


@Parameter(name="*")
@dataclass(frozen=True)
class Looking:
    """How a picture looks."""

    view: Annotated[
        View | None, Parameter(help="With --picture: from the side, front, top, three-quarter, or all on one sheet.")
    ] = None
    layers: Annotated[
        str | None,
        Parameter(
            help="With --picture: what is drawn over the diver, as arrows,gas,horizon,arc (usual); besides these fit "
            "(plate and waist), reach (hands at the valves) and sight (how far ahead the eyes look); or none."
        ),
    ] = None
    size: Annotated[
        str | None, Parameter(help="With --picture: WIDTHxHEIGHT in pixels, e.g. 1920x1080 (usual: 1600x1000).")
    ] = None
    style: Annotated[
        Literal["light", "dark", "print"] | None, Parameter(help="With --picture: light (usual), dark or print.")
    ] = None
    transparent: Annotated[
        bool, Parameter(help="With --picture: nothing behind the diver, to be laid on a slide.")
    ] = False

    def chosen(self, picture: bool, *, afloat: bool = False) -> Chosen:
        """The choices. Raises UsageError for what cannot be; one ``afloat`` has a size and a style only."""
        for one in fields(self):
            if afloat and one.name not in ("size", "style") and getattr(self, one.name):
                raise UsageError(f"--{one.name} is of the picture under water: leave it out with --surface.")
        if not picture:
            for one in fields(self):
                if getattr(self, one.name):
                    raise UsageError(f"--{one.name} is of a picture: give --picture FILE with it.")
        from sim.drawing.sheet_options import Chosen

        usual = Chosen()
        return Chosen(
            view=self.view or usual.view,
            layers=usual.layers if self.layers is None else _layers(self.layers),
            size=usual.size if self.size is None else _size(self.size),
            style=self.style or usual.style,
            clear=self.transparent,
        )


AS_USUAL: Final = Looking()


def _layers(told: str) -> frozenset[Layer]:
    names = [] if told.strip() == "none" else [name.strip() for name in told.split(",")]
    for name in names:
        if name not in LAYERS:
            raise UsageError(
                f"--layers takes any of {', '.join(LAYERS)}, with commas between, or none; got {name[:40]!r}."
            )
    return frozenset(cast("list[Layer]", names))


def _size(told: str) -> tuple[int, int]:
    from sim.drawing.canvas import FEWEST, MOST

    found = re.fullmatch(r"([0-9]{1,5}) ?[x×] ?([0-9]{1,5})", told.strip())
    size = (int(found[1]), int(found[2])) if found else (0, 0)
    if not all(FEWEST <= n <= MOST for n in size):
        raise UsageError(
            f"--size takes WIDTHxHEIGHT, {FEWEST} to {MOST} pixels each, as 1920x1080; got {told[:40]!r}."
        )
    return size
