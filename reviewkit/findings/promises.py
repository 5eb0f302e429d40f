"""Hold what the coach said the class would be against what it was."""

from __future__ import annotations

from reviewkit.findings.claims import distinct
from reviewkit.findings.promised_counts import judge_counts
from reviewkit.findings.promised_here import judge_here
from reviewkit.findings.promised_joins import judge_joins
from reviewkit.findings.promised_kit import judge_kit
from reviewkit.findings.promised_lengths import judge_lengths
from reviewkit.findings.promised_owned import judge_owned
from reviewkit.findings.promised_parts import judge_parts
from reviewkit.findings.promised_rests import judge_rests
from reviewkit.findings.promised_sides import judge_sides
from reviewkit.findings.promised_without import judge_without
from reviewkit.model import HeardClass, Promise


def judge_promises(heard: HeardClass) -> tuple[Promise, ...]:
    """Judge every claim about the class, in the order spoken, one a kind and claim.

    ``kept`` and ``broken`` are said only when clear: small breaches are kept, and what
    could be meant in another way is ``unclear``.
    """
    return distinct(
        [
            *judge_lengths(heard),
            *judge_rests(heard),
            *judge_joins(heard),
            *judge_here(heard),
            *judge_counts(heard),
            *judge_owned(heard),
            *judge_parts(heard),
            *judge_sides(heard),
            *judge_kit(heard),
            *judge_without(heard),
        ]
    )
