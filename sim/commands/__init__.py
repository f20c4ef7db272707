"""The console command ``hangflat``: words in, an answer or one line of complaint out. Knows no physics.

Depends on everything below; cyclopts reads the words.
"""
