"""Read out of a kept review what to do better: points, breath, options, calls and pace."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from reviewkit.errors import InputError
from reviewkit.language.matching import fold_phrase, stem
from reviewkit.rehearse.records import LastVerdict, SpeakingRate
from reviewkit.rehearse.speaking import own_rate
from reviewkit.report.wording import quote

FORMAT = "reviewkit.review/1"

Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LastMove:
    """What was found about one move; ``points`` are those missing or late, by their words."""

    points: Mapping[Key, LastVerdict]
    is_breath_missing: bool
    are_ways_missing: bool


@dataclass(frozen=True, slots=True)
class LastTime:
    """What a review found, by move; ``calls`` are wrong time calls by move and round."""

    source: str
    moves: Mapping[Key, LastMove]
    calls: Mapping[tuple[Key, int], tuple[str, ...]]
    rate: SpeakingRate | None


def key_of(text: str) -> Key:
    """Give the words by which a move or a point is known again."""
    return fold_phrase(text, stem)


def parse_last_time(source: str, data: bytes | str) -> LastTime:
    """Read a review document.

    Raises:
        InputError: It is no review document, or a damaged one.
    """
    try:
        read = json.loads(data)
    except (ValueError, RecursionError):
        read = None
    if not isinstance(read, dict) or read.get("format") != FORMAT:
        raise InputError(
            source, None, "is no review document; name a review.json that reviewkit review wrote"
        )
    try:
        return LastTime(source, _moves(read), _calls(read), _rate(read))
    except (KeyError, TypeError, ValueError, AttributeError):
        raise InputError(
            source, None, "is a damaged review document; make the review anew"
        ) from None


def _moves(read: dict[str, Any]) -> dict[Key, LastMove]:
    return {key_of(one["move"]): _move(one) for one in read["moves"]}


def _move(one: dict[str, Any]) -> LastMove:
    open_points: dict[Key, LastVerdict] = {}
    for point in one["points"]:
        if point["verdict"] in ("missing", "late") and not point.get("set_aside"):
            open_points[key_of(point["point"])] = point["verdict"]
    return LastMove(
        open_points,
        one["breathing"]["verdict"] == "missing",
        one["options"]["verdict"] == "missing",
    )


def _calls(read: dict[str, Any]) -> dict[tuple[Key, int], tuple[str, ...]]:
    intervals = {one["id"]: one for one in read["intervals"]}
    found: dict[tuple[Key, int], tuple[str, ...]] = {}
    for call, said in _wrong_calls(read):
        interval = intervals.get(call["interval"])
        if interval is not None:
            place = (key_of(interval["move"]), interval["round"])
            found[place] = (*found.get(place, ()), said)
    return found


def _wrong_calls(read: dict[str, Any]) -> Iterator[tuple[dict[str, Any], str]]:
    for call in read["time_calls"]:
        if call["verdict"] == "wrong" and not call.get("set_aside"):
            claimed, actual = round(call["claimed_left_s"]), round(call["actual_left_s"])
            yield call, f"{quote(call['text'])} came with {actual} s left, not {claimed} s"


def _rate(read: dict[str, Any]) -> SpeakingRate | None:
    profile = read.get("profile", {})
    return own_rate(profile.get("words_per_min"), profile.get("talk_share"))
