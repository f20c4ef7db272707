"""settling."""
