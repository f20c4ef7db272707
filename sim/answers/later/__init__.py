"""How the diver hangs later in the dive, as depth and gas change: no dive is planned, and no decompression.

``course`` says where the diver is and what is breathed, ``along`` works out the diver at each moment, ``answer`` is
what is told, ``text``, ``table`` and ``chart`` tell it. ``emptying`` and ``empty_*`` answer ``hangflat empty``: the
diver at one depth, at one pressure after another. Depends on ``posture`` and ``sim.assembly``.
"""
