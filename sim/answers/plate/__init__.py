"""A plate on the designer's bench: what it weighs, what was found in its drawing, whether it can be made as drawn."""
