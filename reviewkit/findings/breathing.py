"""Which moves were done without a word about breath."""

from __future__ import annotations

from reviewkit.findings.prompts import judge_prompts
from reviewkit.model import HeardClass, PromptFinding


def judge_breathing(heard: HeardClass) -> dict[str, PromptFinding]:
    """Tell for every planned move that was done whether breath was prompted during it."""
    return judge_prompts(heard, "breathing")
