from __future__ import annotations

import time

from reviewkit.model import Cue, Piece, Transcript
from reviewkit.words import split_words
from tests.read.transcripts import read, starts


def transcript(*cues: Cue, stamp_step_ms: int = 1) -> Transcript:
    return Transcript("class.vtt", "webvtt", cues, (), stamp_step_ms)


def cue(start_ms: int, end_ms: int | None, *pieces: Piece | str) -> Cue:
    return Cue(
        start_ms, end_ms, tuple(Piece(part) if isinstance(part, str) else part for part in pieces)
    )


def test_nothing_said() -> None:
    talk = split_words(transcript())
    assert (talk.words, talk.clock, talk.typical_error_ms, talk.length_ms) == ((), "captions", 0, 0)


def test_own_word_times_are_kept() -> None:
    talk = split_words(
        transcript(cue(1000, 3000, Piece("soft", 1000, 1400), Piece(" knees", 1600, 2100)))
    )
    assert [(word.norm, word.start_ms, word.end_ms) for word in talk.words] == [
        ("soft", 1000, 1400),
        ("knees", 1600, 2100),
    ]
    assert talk.clock == "words"
    assert talk.typical_error_ms < 100
    assert talk.length_ms == 3000


def test_a_word_with_a_start_only_ends_by_the_next_one() -> None:
    talk = split_words(transcript(cue(0, 9000, "soft", Piece(" knees", 500), Piece(" now", 5000))))
    assert [word.start_ms for word in talk.words] == [0, 500, 5000]
    assert talk.words[0].end_ms <= 500
    assert talk.words[1].end_ms < 2000


def test_words_between_stamps_share_the_time_between() -> None:
    talk = split_words(
        transcript(cue(0, 4000, "soft", Piece(" knees and hold", 1000), Piece(" it", 3000)))
    )
    assert [word.norm for word in talk.words] == ["soft", "knees", "and", "hold", "it"]
    inner = [word.start_ms for word in talk.words[1:4]]
    assert inner[0] == 1000 < inner[1] < inner[2] < 3000


def test_times_outside_of_their_cue_are_not_used() -> None:
    talk = split_words(transcript(cue(1000, 3000, "soft", Piece(" knees", 50_000_000))))
    assert 1000 < talk.words[1].start_ms < 3000


def test_captions_that_overlap_end_where_the_next_begins() -> None:
    got = split_words(transcript(cue(0, 6000, "one two three"), cue(3000, 9000, "four five six")))
    begins = [word.start_ms for word in got.words]
    assert begins == sorted(begins)
    assert begins[2] < 3000 <= begins[3]


def test_stamps_cut_to_the_second_count_half_a_second_later() -> None:
    talk = split_words(
        transcript(cue(40_000, None, "hold it"), cue(80_000, None, "up"), stamp_step_ms=1000)
    )
    assert talk.words[0].start_ms == 40_500
    assert talk.words[0].spread_ms > 400


def test_a_last_block_lasts_as_long_as_its_words() -> None:
    talk = split_words(transcript(cue(0, None, "hold it right there everyone")))
    assert 1000 < talk.length_ms < 3000


def test_a_last_block_holds_about_as_much_silence_as_the_others() -> None:
    text = "hold it there and breathe " * 8
    others = [cue(40_000 * at, 40_000 * (at + 1), text) for at in range(6)]
    last = cue(240_000, None, "hold it there and breathe " * 4)
    talk = split_words(transcript(*others, last))
    spoken_ms = split_words(transcript(last)).length_ms - 240_000
    # Half of what fills forty seconds elsewhere.
    assert spoken_ms < talk.length_ms - 240_000 < 20_000
    assert split_words(transcript(*others, cue(240_000, None, text * 9))).length_ms > 280_000


def test_where_a_last_block_ends_is_less_sure_than_where_others_do() -> None:
    text = "hold it there and breathe " * 8
    others = [cue(40_000 * at, 40_000 * (at + 1), text) for at in range(6)]
    words = split_words(transcript(*others, cue(240_000, None, text))).words
    assert words[-1].spread_ms > 3 * words[len(words) - len(text.split()) - 1].spread_ms


def test_the_clock_tells_how_times_were_had() -> None:
    blocks = transcript(*(cue(40_000 * at, None, "hold it there") for at in range(5)))
    captions = transcript(*(cue(3000 * at, 3000 * at + 2500, "hold it there") for at in range(5)))
    assert split_words(blocks).clock == "blocks"
    assert split_words(captions).clock == "captions"
    assert split_words(blocks).typical_error_ms > split_words(captions).typical_error_ms


def test_breath_sounds_are_marked_and_speech_is_not() -> None:
    talk = split_words(transcript(cue(0, 3000, "and (exhales) up")))
    assert [(word.norm, word.is_sound) for word in talk.words] == [
        ("and", False),
        ("exhales", True),
        ("up", False),
    ]


def test_cues_at_the_same_moment() -> None:
    got = starts(
        "1\n00:00:01,000 --> 00:00:03,000\nhold it\n\n2\n00:00:01,000 --> 00:00:03,000\nup up\n"
    )
    assert sorted(word for word, _ in got) == ["hold", "it", "up", "up"]
    assert all(1000 <= at < 3000 for _, at in got)


def test_a_fast_talker_is_heard_from_full_blocks() -> None:
    text = " ".join(["squeeze the shoulders together and down"] * 27)
    talk = split_words(transcript(*(cue(40_000 * at, None, text) for at in range(8))))
    assert len({word.start_ms for word in talk.words}) == len(talk.words)


def test_time_grows_with_the_words_and_no_faster() -> None:
    def seconds(blocks: int) -> float:
        line = "keep the chest up and three two one go then hold it right there everyone " * 10
        text = "\n".join(f"[{40 * at // 60}:{40 * at % 60:02d}] {line}" for at in range(blocks))
        got = read(text)
        best = 9.0
        for _ in range(3):
            began = time.process_time()
            split_words(got)
            best = min(best, time.process_time() - began)
        return best

    assert seconds(160) < 16 * seconds(20)
