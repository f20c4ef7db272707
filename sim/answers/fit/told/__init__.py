"""The answers on fit in words and numbers: ``hangflat.fit/1``, its description, text, sweeps and people."""
