"""Whom a plate suits: women and men drawn from the survey, or real people of a table, beside other plates.

Depends on ``plate`` and on the demands of the room ``fit``.
"""
