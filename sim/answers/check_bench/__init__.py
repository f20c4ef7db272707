"""A user's own measurements, from scale, bar and pool, held against the model.

``bench_file`` and ``readings`` say what was measured, ``situations`` and ``held_diver`` put the diver into the pool,
``predicted`` and ``compare`` hold the two together; ``sheet_*`` draw the form to take along. Depends on ``sim.case``,
``sim.statics`` and ``sim.drawing``.
"""
