"""How the diver comes to rest: the moment held flat, every rest, the motion from flat, the freeze test.

``report`` works it out, ``settle_json`` is its contract, ``text`` what an instructor reads, ``drawn`` the picture,
``afloat`` the diver at the surface with the wing blown up. Depends on ``sim.answers.fit`` for what the eyes reach.
"""
