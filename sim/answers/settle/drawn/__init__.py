"""The picture of a diver: held flat with what turns them, where letting go leads; several divers in one frame."""
