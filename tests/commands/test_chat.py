"""`panside chat` as a cook would use it, and with everything that can go wrong."""

import signal
from pathlib import Path

import pytest
from panside_process import Typing, objects, panside

from assistant.keep import Journal


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "journal.sqlite"


def test_the_fruit_weight_is_answered_with_the_sugar(store: Path) -> None:
    done = panside(
        store, "chat", "--recipe", "berry-syrup", "--json", stdin="one point two kilos\n"
    )
    assert done.returncode == 0, done.stderr
    (turn,) = objects(done)
    assert turn["verdict"] == "take"
    assert turn["events"] == [{"kind": "reading", "what": "fruit", "value": 1.2, "unit": "kg"}]
    assert turn["stage"] == "crush"
    # a quarter of the fruit, by the recipe
    assert "three hundred grams" in turn["say"]


def test_plain_output_is_sentences(store: Path) -> None:
    done = panside(store, "chat", "--recipe", "berry-syrup", stdin="1.2 kg\n")
    assert "Crush the fruit with 300 g of sugar and say done." in done.stdout


def test_a_limit_ends_with_exit_code_3(store: Path) -> None:
    # 21 CFR 114.3: pH 4.6
    done = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin="1 kg\nph 5.1\n")
    assert done.returncode == 3
    assert objects(done)[-1]["stopped"] is True
    assert "do not bottle" in done.stderr


@pytest.mark.parametrize(
    "line",
    [
        "the canoe needs paint",
        "ⅷ☃ \u202e",
        "9" * 5000,
        "-1 kg",
        "nan kg",
        "1e999 kg",
        "drop table;",
    ],
)
def test_what_makes_no_sense_leaves_the_batch_alone(store: Path, line: str) -> None:
    done = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin=f"{line}\n")
    assert done.returncode == 0, done.stderr
    (turn,) = objects(done)
    assert turn["verdict"] in ("refuse", "ask")
    assert (turn["events"], turn["stage"]) == ([], "weigh")
    assert turn["say"]


def test_bytes_that_are_no_text_harm_nothing(store: Path) -> None:
    typed = b"1 kg\n\xff\xfe\nnote \xff dark\nwhere are we\n"
    done = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin=typed)
    assert done.returncode == 0, done.stderr
    turns = objects(done)
    assert [turn["verdict"] for turn in turns] == ["take", "refuse", "take", "take"]
    assert turns[2]["events"] == [{"kind": "note", "text": "\ufffd dark"}]


def test_an_unusable_store_is_exit_code_4(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    done = panside(in_the_way / "journal.sqlite", "chat", "--recipe", "berry-syrup", stdin="1 kg\n")
    assert done.returncode == 4
    assert len(done.stderr.strip().splitlines()) == 1


def test_wrong_use_is_exit_code_2(store: Path) -> None:
    assert panside(store, "chat", "--recipe", "moon-syrup").returncode == 2
    assert panside(store, "chat", "--batch", "none").returncode == 2
    assert panside(store, "frobnicate").returncode == 2


@pytest.mark.parametrize("again", [("--recipe", "berry-syrup"), ()])
def test_a_killed_session_goes_on_where_it_was(store: Path, again: tuple[str, ...]) -> None:
    chat = Typing(store, "--recipe", "berry-syrup")
    chat.says("2.4 kg of blackcurrants")
    assert chat.says("done")["stage"] == "water"
    chat.process.send_signal(signal.SIGKILL)
    assert chat.ends() == -signal.SIGKILL
    back = Typing(store, *again)
    assert back.says("where are we")["stage"] == "water"
    assert "960 ml" in " ".join(back.says("what's next")["show"])
    assert back.ends() == 0


def test_ctrl_c_leaves_the_batch_unharmed(store: Path) -> None:
    chat = Typing(store, "--recipe", "berry-syrup")
    chat.says("2 kg")
    chat.process.send_signal(signal.SIGINT)
    assert chat.ends() == 130
    back = Typing(store)
    assert back.says("where are we")["stage"] == "crush"
    back.ends()


def test_after_stop_the_same_command_goes_on_as_it_says(store: Path) -> None:
    first = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin="2 kg\nstop\n")
    assert "go on from here" in objects(first)[-1]["say"]
    again = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin="done\n")
    (turn,) = objects(again)
    assert (turn["batch"], turn["stage"]) == (objects(first)[0]["batch"], "water")


def test_a_batch_left_in_good_order_is_not_mixed_with_a_new_one(store: Path) -> None:
    panside(store, "chat", "--recipe", "berry-syrup", stdin="2 kg\n")
    done = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin="3 kg\n")
    (turn,) = objects(done)
    assert turn["stage"] == "crush"
    with Journal(store) as journal:
        first_id, second_id = journal.names()
    assert turn["batch"] == second_id
    first = panside(store, "chat", "--json", "--batch", first_id, stdin="done\n")
    assert objects(first)[0]["stage"] == "water"


def test_two_sessions_on_one_batch_do_not_mix(store: Path) -> None:
    one = Typing(store, "--recipe", "berry-syrup")
    batch = one.says("2 kg")["batch"]
    two = Typing(store, "--batch", batch)
    asked = two.says("done")
    assert (asked["verdict"], asked["stage"]) == ("ask", "crush")
    assert "so I have not taken “done”. Do you want to join in?" in asked["say"]
    joined = two.says("yes")
    assert "kept as a note: “done”" in joined["say"]
    assert two.says("done")["stage"] == "water"
    lost = one.says("it looks lovely")
    assert lost["verdict"] == "ask"
    assert "took this batch over" in lost["say"]
    assert "Left to" in one.says("no")["say"]
    assert two.says("where are we")["stage"] == "water"
    assert one.ends() == two.ends() == 0
    with Journal(store) as journal:
        kinds = [event.kind for event in journal.events(batch)]
    assert kinds.count("onward") == 1
    assert kinds.count("note") == 1


def test_a_recipe_named_in_a_second_kitchen_begins_a_batch_of_its_own(store: Path) -> None:
    one = Typing(store, "--recipe", "berry-syrup")
    batch = one.says("2 kg")["batch"]
    two = Typing(store, "--recipe", "berry-syrup")
    turn = two.says("72 degrees")
    assert turn["batch"] != batch
    one.says("done")
    assert two.ends() == one.ends() == 0
    with Journal(store) as journal:
        assert "72" not in str([event.heard for event in journal.events(batch)])


def test_a_line_without_end_is_one_refusal_and_the_next_is_heard(store: Path) -> None:
    endless = "seventy " * 500_000
    done = panside(store, "chat", "--recipe", "berry-syrup", "--json", stdin=f"{endless}\n1.2 kg\n")
    assert done.returncode == 0, done.stderr
    first, second = objects(done)
    assert (first["verdict"], second["verdict"]) == ("refuse", "take")
    assert len(first["heard"]) <= 2000
