"""The picture of a diver: held flat with what turns them, where letting go leads; several divers in one frame.

Depends on ``settle``, on the demands of ``fit``, and on ``sim.drawing``.
"""
