"""Which moves were given an easier or a harder way."""

from __future__ import annotations

from reviewkit.findings.prompts import judge_prompts
from reviewkit.model import HeardClass, PromptFinding


def judge_options(heard: HeardClass) -> dict[str, PromptFinding]:
    """Tell for every planned move that was done whether a choice was offered during it."""
    return judge_prompts(heard, "option")
