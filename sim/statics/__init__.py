"""Equilibria of a body with soft gas pockets. Depends on ``sim.rig`` and numpy."""
