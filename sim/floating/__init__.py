"""Bodies afloat: how deep, at which attitude, how stable.

``body`` is what floats, ``energy`` and ``equilibrium`` find how, ``righting`` what it takes to turn it;
``articulated``, ``joint`` and ``limp`` are the same of bodies joined by limp joints. Depends on ``meshes`` and the
gas of ``sim.statics``.
"""
