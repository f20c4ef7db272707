"""What every picture is drawn with; it knows no answer.

The sheet and its letters (``canvas``, ``letters``, ``palette``), its look (``style``), what a user may choose of it
(``sheet_options``), places for words (``label_places``, ``free_space``), the diver in it (``scene``,
``surfaces``, ``views``, ``diver_painter``: shaded by VTK in a process of its own, or as flat shapes without),
and how a picture is written (``saved``, ``stamp``). Depends on ``meshes`` and matplotlib.
"""
