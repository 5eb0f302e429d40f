from __future__ import annotations

import json
from typing import Any

import pytest

from reviewkit.errors import InputError
from reviewkit.model import Piece
from tests.read.transcripts import read, starts, times

WORDS = [{"word": " Hold", "start": 1.0, "end": 1.4}, {"word": " it.", "start": 1.5, "end": 1.8}]


def test_words_of_segments_become_pieces() -> None:
    cue = read(
        json.dumps({"segments": [{"start": 1, "end": 2, "text": "x", "words": WORDS}]})
    ).cues[0]
    assert cue.pieces == (Piece(" Hold", 1000, 1400), Piece(" it.", 1500, 1800))


@pytest.mark.parametrize(
    "document",
    [
        {"segments": [{"start": 1, "end": 2, "text": "hold it"}]},
        {"segments": [{"start": 1, "end": 2, "words": [{"word": "hold"}, {"word": "it"}]}]},
        [{"start": 1.0, "end": 2.0, "text": "hold it"}],
        [{"start": 1.0, "duration": 1, "text": "hold it"}],
        [{"start": "1.0", "dur": "1.0", "text": "hold it"}],
        [{"start": "00:00:01,000", "end": "00:00:02.000", "text": "hold it"}],
        {"chunks": [{"timestamp": [1.0, 2.0], "text": "hold it"}]},
        {"transcription": [{"offsets": {"from": 1000, "to": 2000}, "text": "hold it"}]},
        {"data": {"captions": [{"start_ms": 1000, "end_ms": 2000, "text": "hold it"}]}},
    ],
    ids=lambda document: json.dumps(document)[:50],
)
def test_shapes_that_recognisers_write(document: Any) -> None:
    assert times(json.dumps(document)) == [(1000, 2000, "hold it")]


def test_a_flat_list_of_words_has_word_times() -> None:
    flat = [
        {"text": word, "start": at, "end": at + 0.4} for at, word in enumerate(("hold", "it", "up"))
    ]
    assert starts(json.dumps(flat)) == [("hold", 0), ("it", 1000), ("up", 2000)]


def test_words_without_times_lie_between_their_neighbours() -> None:
    words = [WORDS[0], {"word": " right"}, {"word": " there", "start": 3.0, "end": 3.5}]
    got = starts(json.dumps({"segments": [{"start": 1, "end": 4, "words": words}]}))
    assert [word for word, _ in got] == ["hold", "right", "there"]
    assert 1400 <= got[1][1] <= 3000


@pytest.mark.parametrize(
    "bad", ["NaN", "Infinity", "-Infinity", "true", "null", '"soon"', "-1", "[]", "{}", "1e999"]
)
def test_what_is_no_time_is_left_out_and_told(bad: str) -> None:
    transcript = read(
        f'[{{"start": {bad}, "text": "lost"}}, {{"start": 1, "end": 2, "text": "hold it"}}]'
    )
    assert [cue.text for cue in transcript.cues] == ["hold it"]
    assert transcript.warnings == ("entry 1 has words but no times; they are left out",)


@pytest.mark.parametrize(
    "text",
    [
        '[{"start": 1, "end": 2, "text": "hold it"}, {"start": 2, "end',
        '{"language": "en", "segments": [{"start": 1, "end": 2, "text": "hold it"}, {"sta',
    ],
)
def test_a_file_cut_off_keeps_whole_entries(text: str) -> None:
    transcript = read(text)
    assert [cue.text for cue in transcript.cues] == ["hold it"]
    assert transcript.warnings == ("line 1: the JSON breaks off here; the entries before are kept",)


def test_one_object_a_line() -> None:
    line = '{"result": [{"word": "hold", "start": 1.0, "end": 1.5}]}\n'
    assert starts(line + line.replace("1.", "2.")) == [("hold", 1000), ("hold", 2000)]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("[" * 100_000 + "{", "nested too deep"),
        ('{"a": ' * 100_000, "nested too deep"),
        ('[{"start": ' + "9" * 9000 + ', "text": "a"}]', "number too long"),
        ('{"a": 1}', "holds no list of timed texts"),
        ("[{]", "cannot be read"),
        ('{"segments": 3}', "holds no list"),
        ('{"segments": [{"start": 50000, "end": 50001, "text": "a b"}]}', "beyond 12 hours"),
    ],
)
def test_what_is_refused(text: str, problem: str) -> None:
    with pytest.raises(InputError, match=problem):
        read(text)


def test_half_a_character_does_not_reach_the_words() -> None:
    assert starts('[{"start": 1, "end": 2, "text": "hold\\ud800 it\\u001b[2J"}]')[0][0] == "hold"
