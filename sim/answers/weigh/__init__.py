"""How heavy or light the diver is, and the ballast that makes up for it.

``conditions`` say how a diver is weighed, ``ballast`` and ``weighing`` find the lead, ``at_the_surface``,
``failures`` and ``sure`` what it leaves; ``report`` gathers, ``answer``, ``text`` and ``chart`` tell it. Depends on
``sim.assembly`` and ``sim.uncertainty``.
"""
