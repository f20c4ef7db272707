"""The bench in the browser: a local page on which a diver is set up by hand, and every answer follows.

``form`` says what can be set, ``set_up`` turns what the page holds into a case and into a file, ``answers`` works out
what it shows, ``server`` serves it to this machine alone. It is the same program as the commands: nothing is worked
out in the page. Depends on everything below the commands.
"""
