"""Two plates of our own drawing: one of the usual size and one for a short back.

Sizes are common practice: 380 to 420 by 250 to 300 mm, channel 55 to 65 mm deep, net area 0.09 to 0.12 m^2, webbing
50 mm wide. The outline itself is invented. Density and thickness that go with it:

    stainless steel    8000 kg/m^3   3.0 mm   about 3 kg
    aluminium          2700 kg/m^3   3.2 mm   about 1 kg
    carbon laminate    1550 kg/m^3   2.0 mm   about 0.3 kg
"""

from __future__ import annotations

import numpy as np

from meshes.plate.shape import Channel, Corner, Hole, PlateShape, Slot

WEBBING_SLOT = (0.054, 0.011)  # m, for webbing 50 mm wide and 2 to 3 mm thick, twice
BOLT_HOLE = 0.0095  # m, clears M8 and 5/16 in
STANDARD_WAIST_SLOT = -0.113  # m from midway between the bolts, 26 mm above the lower one (assumed)
CHANNEL_WIDTH = 0.058  # m, level width of the channel's floor (assumed)
STANDARD_ANGLE = float(np.radians(65.0))  # of each bend of the channel (assumed)
SMALL_ANGLE = float(np.radians(75.0))
BEND_RADIUS = 0.006  # m at the middle of the sheet (common practice for 3 mm)
SHORTER_BACK = 0.056  # m, what women's waist is nearer to C7 than men's (ANSUR II means, see small_plate_shape)


def standard_plate_shape(
    *,
    length: float = 0.40,
    width: float = 0.28,
    thickness: float = 0.003,
    channel_depth: float = 0.056,
    channel_width: float = CHANNEL_WIDTH,
    channel_angle: float = STANDARD_ANGLE,
    bend_radius: float = BEND_RADIUS,
) -> PlateShape:
    """The plate of the usual size; other sizes [m, rad] keep bolts and slots and stretch the rest."""
    channel = Channel(channel_width, channel_depth, channel_angle, bend_radius)
    top, bottom = 0.5125 * length, -0.4875 * length
    inner, outer = channel.mouth, width / 2

    def across(share: float) -> float:
        return inner + share * (outer - inner)

    return PlateShape(
        profile=(
            (top, across(0.50), 0.022),
            (top - 0.060, across(0.92), 0.040),
            (0.010, across(0.74), 0.250),
            (bottom + 0.095, outer, 0.060),
            (bottom + 0.055, outer, 0.045),
            (bottom, across(0.68), 0.030),
        ),
        thickness=thickness,
        channel=channel,
        shoulder=Slot(top - 0.050, across(0.45), *WEBBING_SLOT, float(np.radians(-25.0))),
        waist=Slot(STANDARD_WAIST_SLOT + bottom + 0.195, across(0.80), *WEBBING_SLOT, float(np.radians(85.0))),
        crotch=Slot(bottom + 0.018, 0.0, *WEBBING_SLOT),
        holes=tuple(Hole(x, 0.0, BOLT_HOLE) for x in (0.105, -0.105)),
        cutouts=(
            _channel_opening(0.075, 0.017),
            _flat_opening(inner + 0.010, 0.105, -0.055, across(0.42), across(0.50)),
            _flat_opening(inner + 0.010, -0.085, bottom + 0.030, across(0.50), across(0.45)),
        ),
    )


def small_plate_shape(
    *,
    length: float = 0.335,
    width: float = 0.235,
    thickness: float = 0.003,
    channel_depth: float = 0.044,
    channel_width: float = CHANNEL_WIDTH,
    channel_angle: float = SMALL_ANGLE,
    bend_radius: float = BEND_RADIUS,
) -> PlateShape:
    """A plate for a short back and narrow shoulders; sizes in m and rad, our own drawing.

    Waist slots: 56 mm nearer to the upper bolt than the standard plate's, because women's waist lies so much nearer
    to C7 than men's (means of ANSUR II: C7 to midway between lowest rib and hip bone 370 and 426 mm), so that on the
    woman the cylinders sit as they do with a standard plate on the man. Ears carry them at that height.
    Shoulder slots: 37 mm closer together, as close as the channel lets them be, which is shallower and steeper for
    it; the biacromial breadths differ by 50 mm. They lie lower, their upper ends just below the upper bolt.
    Width: within the waist of nine women in ten (the survey's breadth at the navel, 300 +- 33 mm, narrows by 7 %
    above it).
    Length: what bolts 279 mm apart need, with the crotch slot below the lower one. Other sizes keep bolts, slots and
    channel floor and stretch the rest; it cannot be shorter than 0.33 m. All but the survey's figures is assumed.
    """
    channel = Channel(channel_width, channel_depth, channel_angle, bend_radius)
    top, bottom = 0.482 * length, -0.518 * length
    inner, outer = channel.mouth, width / 2
    waist, shoulder = STANDARD_WAIST_SLOT + SHORTER_BACK, 0.1165

    def across(share: float) -> float:
        return inner + share * (outer - inner)

    return PlateShape(
        profile=(
            (top, across(0.45), 0.022),
            (shoulder - 0.012, across(0.96), 0.035),
            (0.020, across(0.70), 0.120),
            (waist + 0.048, outer, 0.050),
            (waist - 0.042, outer, 0.045),
            (bottom, across(0.26), 0.028),
        ),
        thickness=thickness,
        channel=channel,
        shoulder=Slot(shoulder, inner + 0.029, *WEBBING_SLOT, float(np.radians(-30.0))),
        waist=Slot(waist, across(0.79), *WEBBING_SLOT, float(np.radians(85.0))),
        crotch=Slot(bottom + 0.0160, 0.0, *WEBBING_SLOT),
        holes=tuple(Hole(x, 0.0, BOLT_HOLE) for x in (0.105, -0.105)),
        cutouts=(
            _channel_opening(0.075, 0.017),
            _flat_opening(inner + 0.009, 0.070, -0.020, across(0.42), across(0.42)),
        ),
    )


def _channel_opening(reach: float, half: float) -> tuple[Corner, ...]:
    """Opening along the floor of the channel, ``reach`` up and down from the middle, ``half`` to each side [m]."""
    return tuple((i * reach, j * half, 0.8 * half) for i, j in ((1, 1), (1, -1), (-1, -1), (-1, 1)))


def _flat_opening(inner: float, top: float, bottom: float, upper: float, lower: float) -> tuple[Corner, ...]:
    """Opening in the left flat from ``inner`` out to ``upper`` at the top and ``lower`` at the bottom [m]."""
    return ((top, inner, 0.010), (top, upper, 0.010), (bottom, lower, 0.010), (bottom, inner, 0.010))
