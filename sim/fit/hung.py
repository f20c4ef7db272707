"""A rig hung lower, or on somebody else: what is worn on the back goes along with the plate."""

from __future__ import annotations

from dataclasses import replace

from sim.assembly.assembled import Worn
from sim.assembly.back_cylinders import BackCylinders
from sim.assembly.placement import Placement, inside, point_at, solid_at
from sim.assembly.seat import seated
from sim.person.posed_body import PosedBody
from sim.rig import Part


def hung(worn: Worn, drop: float, body: PosedBody | None = None) -> Worn:
    """The same rig with its waist slots ``drop`` [m] below the natural waist of ``body``, the wearer by default.

    Clothing and the freedom of the joints stay. Nothing is built anew: cylinders and first stages go along.
    """
    wearer = worn.body if body is None else body
    seat = seated(worn.plate, wearer, worn.padding, drop)
    turn = seat.rotation @ worn.seat.rotation.T
    way = Placement(turn, seat.origin - turn @ worn.seat.origin)
    return replace(
        worn,
        body=wearer,
        seat=seat,
        drop=drop,
        cylinders=None if worn.cylinders is None else _moved(worn.cylinders, way),
        first_stages=tuple(_part(p, way) for p in worn.first_stages),
    )


def _moved(cylinders: BackCylinders, way: Placement) -> BackCylinders:
    return replace(
        cylinders,
        parts=tuple(_part(p, way) for p in cylinders.parts),
        each=tuple(inside(way, w) for w in cylinders.each),
        outlets=tuple(inside(way, w) for w in cylinders.outlets),
        isolator=None if cylinders.isolator is None else point_at(way, cylinders.isolator),
    )


def _part(part: Part, way: Placement) -> Part:
    return replace(part, solid=solid_at(way, part.solid))
