"""Assembly, statics, settling, pictures and the command line. Depends on ``scenarios`` and ``meshes``."""
