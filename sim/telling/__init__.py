"""Words that answers share: sentences of a moment, notes of a drawn plate, where an answer is from, the caution."""
