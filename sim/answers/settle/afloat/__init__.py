"""The diver at the surface with the wing blown up: ways of lying, room to breathe, and the picture of them."""
