r"""The statics of ``sim.statics`` for arrays of rigs, as fast as the arithmetic allows.

One implementation of the equations serves both. What a cell holds (``sim.cell_laws``) and how a pocket's sums make
moment, stiffness and balance of gas (``sim.statics.equations``) are plain functions of numbers or arrays: one rig's
numpy code calls them with arrays over directions, and here numba compiles the same functions into loops over cells
and rigs. Only how zeros are looked for differs. (Letting one rig use the compiled loops too would make every first
answer wait for the compiler.)

Compiled code runs in plain threads, each on its own block of rigs, without Python's lock: nothing to set up, safe
beside other threads and in spawned workers, and each rig's answer is the same to the last bit whatever the block,
the number of threads and the order.

numba is imported when one of the modules that need it is: never for one rig. Depends on ``sim.statics`` and numba.
"""
