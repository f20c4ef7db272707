"""What to change in the drawing of a plate: by how much each dimension moves each answer."""
