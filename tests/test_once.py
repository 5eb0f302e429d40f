from __future__ import annotations

from dataclasses import dataclass, replace

from reviewkit.once import once, once_for


@dataclass(frozen=True)
class Source:
    name: str


def test_the_same_object_is_made_from_once() -> None:
    made: list[str] = []

    @once
    def make(source: Source) -> str:
        made.append(source.name)
        return source.name.upper()

    source = Source("a")
    assert (make(source), make(source)) == ("A", "A")
    assert made == ["a"]


def test_an_equal_object_is_another_one() -> None:
    made: list[str] = []

    @once
    def make(source: Source) -> None:
        made.append(source.name)

    source = Source("a")
    make(source)
    make(replace(source))
    assert made == ["a", "a"]


def test_several_records_count_together_and_only_so_many_are_kept() -> None:
    made: list[str] = []

    @once_for(2)
    def make(one: Source, other: Source) -> str:
        made.append(one.name + other.name)
        return made[-1]

    a, b = Source("a"), Source("b")
    for one, other in ((a, b), (b, a), (a, b), (a, a), (b, a), (a, b)):
        make(one, other)
    assert made == ["ab", "ba", "aa", "ba", "ab"]
