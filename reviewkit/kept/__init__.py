"""Reviews that were kept: made anew, looked back on, and forgotten."""
