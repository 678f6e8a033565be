"""Which lines of a reply are spoken, and in which order."""

import pytest

from assistant.cook.reply import AT_MOST, Line, Quantity, Rank, Reply, joined


def _line(rank: Rank, id_: str = "") -> Line:
    return Line(id=id_ or rank, rank=rank)


def test_the_most_urgent_are_spoken_in_the_order_they_stand() -> None:
    reply = Reply(lines=tuple(_line(r) for r in ("answer", "do", "limit", "caution")))  # type: ignore[arg-type]
    assert [line.rank for line in reply.aloud()] == ["limit", "caution"]
    assert [line.rank for line in reply.left()] == ["answer", "do"]


def test_what_is_read_back_takes_no_sentence_s_room() -> None:
    reply = Reply(lines=(_line("read_back"), _line("do"), _line("answer"), _line("detail")))
    assert [line.rank for line in reply.aloud()] == ["read_back", "do", "answer"]


def test_details_are_spoken_when_asked_for() -> None:
    reply = Reply(lines=(_line("detail"), _line("answer")))
    assert len(reply.aloud()) == 1
    assert len(reply.aloud(detail=True)) == AT_MOST


@pytest.mark.parametrize("detail", [False, True])
def test_nothing_is_lost_between_spoken_and_left(detail: bool) -> None:
    ranks: tuple[Rank, ...] = ("answer", "detail", "do", "caution", "read_back", "answer")
    reply = Reply(lines=tuple(_line(rank, str(n)) for n, rank in enumerate(ranks)))
    told = [*reply.aloud(detail), *reply.left(detail)]
    assert sorted(line.id for line in told) == [str(n) for n in range(len(ranks))]


def test_of_several_replies_the_last_says_what_comes_next() -> None:
    first = Reply(lines=(_line("read_back", "a"), _line("do", "stage")))
    last = Reply(lines=(_line("read_back", "b"), _line("do", "stage")), stopped=True)
    both = joined((first, last))
    assert [line.id for line in both.lines] == ["a", "b", "stage"]
    assert both.stopped


def test_an_amount_to_weigh_by_has_no_ends() -> None:
    wide = Quantity(value=5, unit="g", low=4, high=6)
    assert wide.likely() == Quantity(value=5, unit="g")
