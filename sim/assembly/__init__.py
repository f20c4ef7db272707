"""assembly."""
