"""person."""
