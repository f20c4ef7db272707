"""Whom a plate suits: women and men drawn from the survey, or real people of a table, beside other plates."""
