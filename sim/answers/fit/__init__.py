"""Whether the gear fits the diver: where the rig sits, what hands and eyes reach, the carry ashore.

Each answer is a module with the class that holds it; the class says what its fields mean, so that it is what is told,
too. What can fail is an object in ``demands``, which everything goes through that holds rigs against demands.
``answer`` gathers the answers for one plate, ``report`` for all that was asked; ``told`` has the words, ``drawn`` the
pictures. Depends on what is worn (``Assembled.worn``); settle, why and change build on this room, it on none of them.
"""
