"""A plate on the designer's bench: what it weighs, what was found in its drawing, whether it can be made as drawn.

``bench`` reads one from whatever tells of it, ``checks`` holds it against ``rules``, ``laid`` puts it on a diver;
``answer`` and ``text`` tell it. Rooms below ask more of it: ``suits``, ``divers``, ``hold``, ``change``, ``design``,
``drawn``. Depends on ``meshes.plate`` and the room ``fit``.
"""
