"""The diver as the cylinders on the back empty: moment, wing gas, weight from pressure to pressure. No dive plan.

``emptying`` works it out, ``report`` gathers it, ``text`` and ``chart`` tell it.
"""
