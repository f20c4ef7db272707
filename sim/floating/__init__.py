"""Bodies afloat: how deep, at which attitude, how stable."""
