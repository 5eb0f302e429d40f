"""The local page: forms in, screens out; everything it shows comes from a ``Review``."""
