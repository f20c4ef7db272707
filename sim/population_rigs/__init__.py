"""Rigs of a whole population in one gear choice, as arrays, without a body built for each person.

Some hundred people drawn from the survey are built in full, once for each sex and pose, and dressed once for each
gear choice. Mass and tissue volume are closed forms; masses and places of all else are expanded over those people in
what makes a body: stature, mass, volume, lungs and the measures of the survey. How far the expansion errs is found by
leaving out each of the people in turn, and every gear choice carries it.
"""
