"""Shapes and their mass properties. Depends on numpy and scipy.

Here stands what every room uses: a closed mesh (``mesh``), its mass, centres and inertia (``solid``), what
solids are built from (``loft``, ``sweep``, ``primitives``, ``revolved``), and a flat shape with holes
(``outline``). The rooms: ``body`` the diver's skin, ``gear`` what is worn, ``plate`` what carries the cylinders,
``drawings`` what a designer's file holds. Lengths in metres, densities in kg/m^3; nothing here knows water,
people's names or units.
"""
