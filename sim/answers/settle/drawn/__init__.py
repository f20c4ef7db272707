"""The picture of the diver at rest: water behind, the diver, marks and words, small drawings beside."""
