"""What is seen, and why: the causes that fit how a diver hangs, and the test in the water that tells them apart.

``causes`` is the model: what each cause does to the moment, to the attitude and to the fins. ``diver`` is what the
program knows of this diver, ``levers`` how far each cause moves the moment; ``behaviour`` plays divers of each cause,
and what they do when they are tested. ``ranking`` weighs them by what was seen. ``answer`` gathers it, ``text`` and
``chart`` tell it; ``typed`` reads what was seen as it is typed. Depends on ``posture``, on ``fit`` for what heads
meet, and on ``sim.uncertainty``.
"""
