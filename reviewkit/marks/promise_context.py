"""Tell claims about this class from stories, other people, other days and what is supposed.

What takes a claim away from this class stands before it in the same breath ("my sister
does ten minutes", "if you only have ten minutes") or close behind it ("ten minutes ago").
A word that comes back to this class in between ("today", "we've got") gives it back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hit, Hits

# Another day, what is past, other people: nothing said after them is promised here.
_ELSEWHERE = ("story", "past", "person")
_GOES_ROUND = ("rounds", "maybe_rounds")
# Behind these a participle is not past: "the lap gets walked four times", "nobody is asked to".
_PASSIVE = word_set("be being is are am gets get getting isn't aren't you're we're they're")
_PASSIVE_REACH = 2
_VEHICLES = ("the bus", "the train")
_REACH_BEFORE = 9
_REACH_AFTER = 3


@dataclass(frozen=True, slots=True)
class Context:
    """Where one stretch of talk leaves this class, supposes something, and comes back."""

    elsewhere: tuple[Hit, ...]
    supposing: tuple[Hit, ...]
    resumes: tuple[Hit, ...]
    over: tuple[Hit, ...]

    def is_elsewhere(self, claim: Claim) -> bool:
        """Tell whether a claim is about something else than this class, or only supposed.

        Amounts alone are supposed: "if you have a mat, no jumping" still says something.
        """
        away = self.elsewhere if claim.amount is None else (*self.elsewhere, *self.supposing)
        if claim.what in _GOES_ROUND:
            # "The bus goes round three times" is a coach's round, "the bus takes ten" is not.
            away = tuple(hit for hit in away if not hit.text.startswith(_VEHICLES))
        begin = claim.first if claim.amount is None else claim.amount
        return any(self._reaches(hit, begin) for hit in away) or (
            claim.amount is not None
            and any(0 < hit.first - claim.amount <= _REACH_AFTER for hit in self.over)
        )

    def _reaches(self, hit: Hit, begin: int) -> bool:
        """Tell whether a cue lies before a place and nothing comes back to this class."""
        if not (hit.first <= begin <= hit.last + _REACH_BEFORE):
            return False
        return not any(hit.first < one.first <= begin for one in self.resumes)


def read_context(tokens: Sequence[Token], hits: Hits) -> Context:
    """Find the cues of one stretch of talk; the word lists are those of promises."""
    return Context(
        tuple(
            hit
            for label in _ELSEWHERE
            for hit in hits.get(label, ())
            if not (label == "past" and _is_passive(tokens, hit))
        ),
        hits.get("supposing", ()),
        hits.get("resumes", ()),
        hits.get("over", ()),
    )


def _is_passive(tokens: Sequence[Token], hit: Hit) -> bool:
    """Tell whether what sounds past is done in this class: "gets walked", "will be asked"."""
    before = tokens[max(0, hit.first - _PASSIVE_REACH) : hit.first]
    return any(token.text in _PASSIVE for token in before)
