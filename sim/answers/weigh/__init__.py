"""How heavy or light the diver is, and the ballast that makes up for it."""
