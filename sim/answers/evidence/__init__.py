"""The package's numbers held against numbers from outside it, computed afresh each time."""
