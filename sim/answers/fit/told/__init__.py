"""The answers on fit in words: text, sentences and tables; and what is told of set-ups and of people.

Depends on ``fit`` and ``sim.telling``.
"""
