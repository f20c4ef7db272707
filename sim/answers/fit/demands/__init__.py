"""What is asked of a rig on a person: one file a demand, one list of them all.

A demand that can fail says for one diver by how much it is met and in which words, for a rig hung in many ways on
anybody how much is left in each, and for a population what its failing is called and how it is drawn. Everything that
holds rigs against demands (the answer for one diver, the search for a set-up, sweeps, people, their map, studies)
goes through the list in ``every.py``: a new demand is a file here and a line there. Depends on the margins worked out
in ``fit``.
"""
