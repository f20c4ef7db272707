"""A user's own measurements, from scale, bar and pool, held against the model."""
