"""What a diver wears, as solids with mass: cylinders, wing, webbing, fins, lead, regulators and the small things.

Depends on the shapes of ``meshes`` alone. Each module is a kind of thing: a function from lengths in metres (and
a mass, where it is known from the scales: ``weighed``) to a ``Solid`` in axes of its own that its docstring
states; left and right are one function with a mirror argument. Where it sits on the diver is the business of
``sim.assembly``.
"""
