"""From a scenario to a rig: every worn thing made, put in its place and added up. Here units and files meet SI.

``scenario_rig`` dresses a ``posed_diver`` by the list in ``stages``; each stage, in a file of its own, yields
``worn_thing.WornThing``. ``assembled`` is what comes out, ``other_gas`` a short way to a rig that differs in the gas
of its suit alone; ``rig_as_parts`` and ``parts_rig`` are the ways to and from a file of numbers, ``afloat`` is the
diver at the surface. Depends on ``scenarios``, ``meshes`` and the mechanics below it.
"""
