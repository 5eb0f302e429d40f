"""Reviews a filmed interval class from its timed transcript and its plan."""
