"""Lines into sentences, and which of them are spoken."""

import re
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import WordsMissing
from assistant.cook.reply import Line, Quantity, Rank, Reply
from assistant.say.general import ANOTHER_WARNING
from assistant.say.phrase import by_ear, by_eye, more, shown, spoken

SUGAR = Quantity(value=600, unit="g")
PH = Quantity(value=4.3, unit="pH", exact=True)
RANKS = get_args(Rank)


def line(rank: Rank, text: str = "Stir.", **facts: Quantity | str | int) -> Line:
    return Line(id="test", rank=rank, text=text, facts=facts)


def test_an_amount_is_said_once_more() -> None:
    do = Line(id="t", rank="do", text="Weigh out {a} of sugar.", facts={"a": SUGAR}, repeat="a")
    assert by_ear(do) == "Weigh out six hundred grams of sugar: six hundred grams."
    assert by_eye(do) == "Weigh out 600 g of sugar."


def test_the_second_time_leaves_the_spread_out() -> None:
    about = Quantity(value=600, unit="g", low=550, high=650)
    do = Line(id="t", rank="do", text="Add {a}!", facts={"a": about}, repeat="a")
    assert by_ear(do) == (
        "Add about six hundred grams, five hundred and fifty to six hundred and fifty:"
        " six hundred grams!"
    )


def test_a_repeat_without_its_fact_is_an_error() -> None:
    with pytest.raises(WordsMissing, match="repeats 'b'"):
        by_ear(Line(id="t", rank="do", text="Add {a}.", facts={"a": SUGAR}, repeat="b"))


def test_a_sentence_begins_with_a_capital() -> None:
    answer = line("answer", "{a} of sugar.", a=SUGAR)
    assert by_ear(answer) == "Six hundred grams of sugar."
    assert by_eye(answer) == "600 g of sugar."


@pytest.mark.parametrize(
    ("text", "ear", "eye"),
    [
        ("I have {v}.", "I have p h four point three.", "I have pH 4.3."),
        ("The pH is {v}.", "The p h is four point three.", "The pH is 4.3."),
        ("pH first. I have {v}.", "P h first. I have p h four point three.",
         "pH first. I have pH 4.3."),
    ],
)  # fmt: skip
def test_ph_is_named_once_in_a_sentence(text: str, ear: str, eye: str) -> None:
    told = line("answer", text, v=PH)
    assert (by_ear(told), by_eye(told)) == (ear, eye)


@pytest.mark.parametrize(
    ("text", "told"),
    [("{v}", "600 g."), ("Taken back", "Taken back."), ("Right?", "Right?"), ("Go!", "Go!")],
)
def test_every_line_ends_as_a_sentence(text: str, told: str) -> None:
    assert by_eye(line("answer", text, v=SUGAR)) == told
    assert by_ear(line("answer", text, v=SUGAR))[-1] == told[-1]


def test_counts_and_names_are_worded() -> None:
    words = "Batch {batch} is kept, with {events} {events|entry|entries}."
    told = line("answer", words, batch="2026-11-25-1", events=12)
    assert by_ear(told) == "Batch 2026-11-25-1 is kept, with twelve entries."
    assert by_eye(line("answer", words, batch="b", events=1)) == "Batch b is kept, with 1 entry."


def test_the_most_urgent_two_are_spoken_in_their_order() -> None:
    reply = Reply(
        lines=(
            line("read_back", "Seventy-two."),
            line("do", "Take it off."),
            line("limit", "Too hot."),
            line("detail", "Why."),
        )
    )
    assert spoken(reply) == "Seventy-two: Take it off. Too hot."
    assert shown(more(reply)) == ["Why."]
    assert shown(reply) == ["Seventy-two.", "Take it off.", "Too hot.", "Why."]


def test_of_equal_rank_the_earlier_is_spoken() -> None:
    reply = Reply(lines=tuple(line("answer", f"{n}.") for n in "abc"))
    assert spoken(reply) == "A. B."


def test_detail_is_spoken_only_when_asked_for() -> None:
    reply = Reply(lines=(line("detail", "Why."),))
    assert spoken(reply) == ""
    assert spoken(more(reply), detail=True) == "Why."
    assert more(more(reply), detail=True).lines == ()


def test_a_warning_without_room_is_announced() -> None:
    reply = Reply(lines=(line("caution", "a."), line("limit", "b."), line("caution", "c.")))
    assert spoken(reply) == "A. B; there is another warning: say more."
    assert shown(more(reply)) == ["C."]


def test_a_question_keeps_its_mark_where_a_warning_is_announced() -> None:
    reply = Reply(lines=(line("limit", "a."), line("limit", "b?"), line("caution", "c.")))
    assert spoken(reply) == "A; there is another warning: say more. B?"


def test_a_warning_after_one_sentence_is_announced_in_another() -> None:
    lead, detail = line("read_back", "one gram"), line("detail", "d.")
    reply = Reply(lines=(lead, *[line("limit", "a.")] * 2, line("caution", "c."), detail))
    assert spoken(reply).endswith(f"; {by_ear(ANOTHER_WARNING).lower()}")


@given(st.lists(st.sampled_from(RANKS), max_size=8), st.sampled_from(["L.", "L"]))
def test_no_more_than_two_sentences_are_said(ranks: list[str], words: str) -> None:
    reply = Reply(lines=tuple(line(rank, words) for rank in ranks))
    said = re.findall(r"[.!?](?:\s|$)", spoken(reply))
    assert len(said) <= 2


def test_what_is_read_back_leads_into_the_first_sentence() -> None:
    fruit, weight = line("read_back", "blackcurrant"), line("read_back", "{v}", v=SUGAR)
    reply = Reply(lines=(fruit, weight, line("do", "crush it."), line("do", "stir.")))
    assert spoken(reply) == "Blackcurrant, six hundred grams: Crush it. Stir."
    assert spoken(Reply(lines=(weight,))) == "Six hundred grams."


def test_silence_for_nothing() -> None:
    assert spoken(Reply()) == ""
    assert shown(Reply()) == []


replies = st.lists(st.sampled_from(RANKS), max_size=8).map(
    lambda ranks: Reply(
        lines=tuple(line(rank, f"L{n}.") for n, rank in enumerate(ranks)), stopped=True
    )
)


@given(replies)
def test_spoken_and_more_share_the_lines_out(reply: Reply) -> None:
    rest = more(reply)
    told = [one for one in reply.lines if one not in rest.lines]
    assert sorted((*told, *rest.lines), key=reply.lines.index) == list(reply.lines)
    assert sum(one.rank != "read_back" for one in told) <= 2
    assert all(one.rank != "detail" for one in told)
    sentences = [by_ear(one) for one in told if one.rank != "read_back"]
    said = spoken(reply)
    places = [said.find(sentence.rstrip(".")) for sentence in sentences]
    assert -1 not in places
    assert places == sorted(places)
    assert rest.stopped


@given(replies)
def test_nothing_left_out_is_more_urgent_than_what_is_spoken(reply: Reply) -> None:
    rest = more(reply).lines
    told = [one for one in reply.lines if one not in rest]
    told = [one for one in told if one.rank != "read_back"]
    worst = max((RANKS.index(one.rank) for one in told), default=-1)
    assert all(RANKS.index(one.rank) >= worst for one in rest)


@given(replies)
def test_asking_for_more_comes_to_an_end_with_all_lines_told(reply: Reply) -> None:
    rest, rounds = more(reply), 0
    while rest.lines:
        before, rest = rest, more(rest, detail=True)
        assert len(rest.lines) < len(before.lines)
        rounds += 1
    assert rounds <= 4
