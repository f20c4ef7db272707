"""Coefficients and tables behind the body, with their sources in the modules that read them."""
