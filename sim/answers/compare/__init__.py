"""Set-ups side by side: what differs between the files, and what that does to moment, weight, fit and the carry.

``differences`` reads the files against each other, ``compared`` works the answer out, ``text`` and ``picture`` tell
it. Depends on the rooms ``settle`` and ``fit``.
"""
