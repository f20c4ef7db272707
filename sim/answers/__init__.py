"""One room for each answer: what it works out, how it is told and how it is drawn stand together.

A room depends on rooms below it, in the order that the import contracts state, and on everything beneath ``answers``;
words and drawing that several share, and that know no answer, are in ``sim.telling`` and ``sim.drawing``.
"""
