"""What could be worn otherwise, what each of it does to the trimming moment, and the least that brings balance.

``candidates`` and ``lead`` list what could be done, ``occasions`` say when it is tried, ``together`` adds up and
ranks, ``ballasting`` puts the lead right, ``report`` gathers; ``answer``, ``text`` and ``chart`` tell it. Depends on
the rooms ``posture``, ``fit``, ``later`` and ``weigh``.
"""
