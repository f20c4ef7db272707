"""How a rig moves when the diver stops moving, until it rests. Depends on ``sim.statics``, ``sim.rig`` and scipy."""
