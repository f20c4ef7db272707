"""The measured drawing of the fit, the chart of a sweep and the map of people.

Depends on ``fit`` and ``sim.drawing``.
"""
