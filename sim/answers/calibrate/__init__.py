"""What a diver's own measurements say of this diver: the unknowns of the model fitted to them, with their spread.

``model`` says how the unknowns bear on the readings, ``posterior`` fits them, ``surprise`` looks for what contradicts
the model, ``learnt`` and ``known_file`` write down what was learnt, ``answer``, ``text`` and ``chart`` tell it.
Depends on ``check_bench``, which reads the measurements, and on ``sim.uncertainty``, whose unknowns these are.
"""
