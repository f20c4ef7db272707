"""What a plate does to the reference divers, beside the catalogue's: by its mass, its places and its fit.

Depends on ``plate`` and on the rooms ``fit`` and ``weigh``.
"""
