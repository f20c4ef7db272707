"""tests: a package, since some libraries install one of the same name that would be found instead."""
