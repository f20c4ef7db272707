"""From a diver's file to every answer. Depends on ``scenarios`` and ``meshes``.

Bottom to top: mechanics in SI floats and arrays (``rig``, ``fill_laws``, ``statics``, ``batch``, ``settling``,
``floating``), the body (``person``), the gear put on it (``assembly``), the file as read (``case``), what may be
otherwise (``uncertainty``), then what all answers share (``telling``, ``drawing``), the ``answers``, and the
``commands``.
"""
