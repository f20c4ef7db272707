"""What a dive changes about a diver: the gas that is breathed."""
