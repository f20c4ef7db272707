"""The hand-out for a class: one or two pages for a diver, for two compared, or for each of a class, as one PDF.

``handout`` gathers what the other rooms answer, ``words`` makes of it what is printed, ``pictures`` draws what is
shown, ``typeset`` hands both to the typesetter with ``sheet.typ``, which holds the layout and no words of an answer.
Depends on the rooms whose answers it prints, and on typst, an extra.
"""
