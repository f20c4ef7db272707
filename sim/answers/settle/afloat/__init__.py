"""The diver at the surface with the wing blown up: ways of lying, room to breathe, and the picture of them.

Depends on ``sim.floating`` and ``sim.assembly``; its picture on ``drawn`` beside it.
"""
