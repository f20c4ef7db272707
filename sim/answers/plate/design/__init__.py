"""A plate searched for a group of people: what mass, share suited and moment go together, and the one chosen.

Depends on ``plate``, ``suits`` and ``divers``.
"""
