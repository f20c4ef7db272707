"""What every picture is drawn with; it knows no answer.

The sheet and its letters (``canvas``, ``letters``, ``free_space``, ``palette``), the diver in it (``scene``,
``surfaces``, ``views``, ``diver_painter``: shaded by VTK in a process of its own, or as flat shapes without),
and how a picture is written (``saved``, ``stamp``).
"""
