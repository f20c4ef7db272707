"""How the diver comes to rest: the moment held flat, every rest, the motion from flat, the freeze test.

``report`` works it out, ``answer`` holds the records that are its contract (``uncertain`` and ``afloat`` those of
what is told besides), ``told`` fills them, ``text`` is what an instructor reads, ``drawn`` the picture, ``afloat``
the diver at the surface with the wing blown up. Depends on ``sim.answers.fit`` for what the eyes reach.
"""
