"""Short lists of words, written as plain text so that they stay readable in code."""

from __future__ import annotations


def word_set(text: str) -> frozenset[str]:
    """Make a set of the words of a text."""
    return frozenset(text.split())
