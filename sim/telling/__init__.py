"""Words that answers share: sentences of a moment, notes of a drawn plate, where an answer is from, the caution.

``record`` makes JSON and pages of fields from an answer's annotations; ``language`` puts every sentence into the
reader's language and units, by the tables in ``po``. It knows no answer. Depends on ``sim.said``.
"""
