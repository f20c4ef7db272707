"""The package's numbers held against numbers from outside it, computed afresh each time.

One module a field of numbers, each with a function ``checks``; tables of the sources in ``data``, what other programs
found in ``stored``. Depends on all that it checks.
"""
