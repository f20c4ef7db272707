"""What is said of input that cannot be used, in the reader's language."""

from __future__ import annotations

from sim.telling.language import told


def told_error(wrong: Exception) -> str:
    """An error's message: of what was put together by ``sim.said``, in the reader's words."""
    message = wrong.args[0] if wrong.args else ""
    return told(message) if isinstance(message, str) else str(wrong)
