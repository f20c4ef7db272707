"""What posture can hold: the moment that a relaxed diver trims out by knees, hips, arms, head and breath.

``levers`` says how far each goes and why, ``reposed`` moves the limbs of a rig, ``runaway`` says how fast a drift
grows, ``posture`` gathers it in one record. Other answers take ``posture_of`` and ``held_words``. Depends on
``sim.case`` and ``sim.statics``.
"""
