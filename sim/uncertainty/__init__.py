"""What is not known of a scenario, drawn from its bands: how sure each answer is, and what that hangs on.

``variants`` and ``suit``, ``body`` say what may be otherwise, ``variates`` and ``uncertain_rig`` what each does to a
rig's numbers, ``sampling`` draws them, ``shares`` splits the spread; ``belief`` is what a diver's measurements left
of it. Depends on ``sim.case``, ``sim.assembly`` and ``sim.statics``.
"""
