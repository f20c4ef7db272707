"""Generic gear by name; the numbers stand in the TOML files beside this one, each with its source.

Depends on the reading of TOML in ``scenarios`` alone.
"""

from scenarios.catalogue.lookup import Entry, Section, entries, entry, sections

__all__ = ["Entry", "Section", "entries", "entry", "sections"]
