"""A small grammar of movement talk: what a phrase speaks of, and what it asks for.

``terms`` finds the words of a text that carry meaning, with their senses; ``likeness``
says how much of one text is in another; ``grammar`` parses frames, that is part, axis,
pole and polarity. Stages may use them; they use the records alone.
"""
