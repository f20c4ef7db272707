"""Which item turns the diver: the trimming moment split by items (``answer``), as text and as a chart.

Depends on ``settle``.
"""
