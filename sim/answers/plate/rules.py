"""What a plate is held against, each with its source or the word "assumed"."""

from __future__ import annotations

from typing import Final

WEBBING: Final = 0.050  # m wide (common practice)
SLOT_LONGER: Final = (
    0.001,
    0.010,
)  # m by which a slot is longer than the webbing is wide: it slides, and stays put (assumed)
SLOT_WIDTH: Final = (
    0.005,
    0.020,
)  # m: two layers of webbing 2.5 mm thick, and no more than a slide holds back (assumed)
BOLT_SPACING: Final = 0.2794  # m, 11 in between the bolts of twin bands (common practice)
SPACING_PLAY: Final = 0.0015  # m that bands and oversize holes give way (assumed)
BOLT_HOLE: Final = (0.0084, 0.0100)  # m, clearance holes for M8, fine to coarse (ISO 273, from memory); 5/16 in fits
HOLE_PLAY: Final = 0.0001  # m, a circle's chords
NO_HOLE: Final = 0.005  # m from where bolt or slot should be, within which its hole is looked for

HOLE_TO_EDGE: Final = 1.2  # from a bolt hole's middle, over its diameter (EN 1993-1-8 table 3.3, from memory)
# Least sheet left between two openings, and between an opening and the edge, over the thickness (common practice in
# cutting and punching sheet); what webbing asks of it is a question of stress, not of a rule
WEB: Final = 2.0
# From the edge of a bolt hole or slot to where a bend begins, over the thickness: nearer, it is drawn out of shape
# (common practice in bending metal; what is moulded has its holes cut afterwards)
HOLE_TO_BEND: Final = 2.0
# Radius of a bend, over the thickness, from which holes beside it or in it are no matter: bending stretches the faces
# by half the thickness over the radius, here 2.5 %, so that a bolt hole's edge moves by less than its play
# (strain of a bent plate: any handbook; that it is no matter: assumed)
ROLLED: Final = 20.0
