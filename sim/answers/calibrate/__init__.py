"""What a diver's own measurements say of this diver: the unknowns of the model fitted to them, with their spread."""
