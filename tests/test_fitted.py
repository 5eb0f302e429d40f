"""The fitted tables: they load, name what the code sees, and hear a plain start and end."""

from __future__ import annotations

from functools import cache

from reviewkit.language.convolution import UNKNOWN
from reviewkit.marks.edge_features import gather_facts
from reviewkit.marks.edge_inputs import PLACE_FACTS
from reviewkit.marks.edges import fitted_net, weigh_edges
from reviewkit.marks.label_net import NET_TABLES, RISK, label_net
from reviewkit.marks.labels import LABELS
from reviewkit.model import Lexicon, Talk
from reviewkit.naming import BIAS, SWAP_WEIGHTS
from reviewkit.naming.signs import SIGNS
from reviewkit.read import read_lexicon
from tests.talking import talk

CLASS = (
    "right next up we have squats feet a bit wider than the hips [2] three two one go [1] "
    "sit back and down and stand tall [2] chest up knees out over the toes [6] keep going "
    "lovely work breathe out as you stand [5] ten seconds left [5] three two one and rest "
    "[2] shake the legs out grab some water [4] next is the plank so come down to the floor "
    "[3] in three two one and go [2] belly tight long line from head to heels [8] halfway "
    "there [6] last ten seconds [6] three two one and stop [1] well done take a breather"
)


@cache
def _lexicon() -> Lexicon:
    return read_lexicon()


def _talks() -> tuple[Talk, ...]:
    return tuple(talk(CLASS, clock=clock) for clock in ("words", "captions", "blocks"))


def _word(heard: Talk, phrase: str) -> int:
    """Give the position of the first word of a phrase said once or more."""
    said, asked = [word.norm for word in heard.words], phrase.split()
    return next(at for at in range(len(said)) if said[at : at + len(asked)] == asked)


def test_the_network_has_a_row_for_all_that_it_is_given() -> None:
    net = fitted_net(_lexicon())
    width = len(net.edges.weights)
    assert len(net.words) > 1500
    assert {layer.weights.shape for layer in net.layers} == {(3 * width, width)}
    assert net.place.weights.shape == (2 * width + len(PLACE_FACTS), width)


def test_classes_of_the_word_list_are_known_to_the_network() -> None:
    listed = {entry.label for entry in _lexicon().lists["word_classes"]}
    assert listed == fitted_net(_lexicon()).classes.keys()


def test_the_network_of_labels_knows_every_label_class_and_sense() -> None:
    lexicon = _lexicon()
    net = label_net(*(lexicon.weights[name] for name in NET_TABLES))
    assert net.labels == (*LABELS, RISK)
    assert len(net.outputs[1]) == len(net.labels)
    lists = {"word_classes": "<{}>", "line_classes": "<{}>", "senses": "~<{}>"}
    assert net.names.keys() >= {UNKNOWN} | {
        form.format(name)
        for listed, form in lists.items()
        for entry in lexicon.lists[listed]
        for name in entry.label.split()
    }


def test_an_edge_is_rare_without_evidence() -> None:
    heard = talk("trelk obnish " * 60)
    moments = weigh_edges(heard, None, _lexicon()).moments
    inside = [one for one in moments if 20 < one.word < 100]
    assert max(max(one.start, one.end) for one in inside) < -2


def test_most_of_what_is_said_in_a_plain_talk_is_known() -> None:
    words = fitted_net(_lexicon()).words
    tokens = gather_facts(talk(CLASS), ()).tokens
    assert 0.9 * len(tokens) < sum(token in words for token in tokens)


def test_a_go_after_a_count_is_a_likelier_start_than_anywhere_else_nearby() -> None:
    for heard in _talks():
        moments = weigh_edges(heard, None, _lexicon()).moments
        go, cue = _word(heard, "go sit back"), _word(heard, "lovely work")
        at_go = max(one.start for one in moments if one.word in (go, go + 1))
        assert max(one.start for one in moments if one.word in range(go - 14, go - 3)) < at_go
        assert max(one.start for one in moments if one.word in range(cue, cue + 6)) < at_go - 3


def test_and_rest_after_a_count_is_a_likely_end() -> None:
    for heard in _talks():
        moments = weigh_edges(heard, None, _lexicon()).moments
        rest, cue = _word(heard, "and rest"), _word(heard, "lovely work")
        at_rest = max(one.end for one in moments if one.word in (rest, rest + 1))
        assert max(one.end for one in moments if one.word in range(cue, cue + 6)) < at_rest - 3
        assert max(one.start for one in moments if one.word == rest) < at_rest


def test_cues_sound_more_like_work_than_water_does() -> None:
    heard = talk(CLASS)
    work = weigh_edges(heard, None, _lexicon()).work
    cues, water = _word(heard, "chest up knees out"), _word(heard, "grab some water next")
    assert max(work[water : water + 3]) < min(work[cues : cues + 4])


def test_an_empty_talk_has_no_words_to_weigh() -> None:
    assert weigh_edges(talk(""), None, _lexicon()).work == ()


def test_every_sign_of_a_swap_has_a_weight_and_giving_a_move_away_speaks_for_one() -> None:
    rows = _lexicon().weights[SWAP_WEIGHTS].rows
    assert rows.keys() >= {BIAS, *SIGNS}
    assert rows[BIAS][0] < 0 < rows["own given away"][0]
