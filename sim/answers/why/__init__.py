"""Which item turns the diver: the trimming moment split by items, and its chart."""
