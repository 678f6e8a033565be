"""Vosk itself, with its Korean model: the engine is the same, only the words are other ones."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from model_maker import FIXED, make_model
from sounds import KOREAN, after_silence, at_snr, boiling, cut_up, fan, silence, spoken, white

from assistant.base.errors import EarsMissing
from assistant.hear.heard import Heard, Samples
from assistant.hear.voice_activity import Pauses
from assistant.hear.vosk_ears import VoskEars

pytestmark = pytest.mark.audio

AGAIN = "다시 말해 주세요"  # please say it again
RASPBERRY = "라즈베리"
TIMER = "타이머 시작"  # start the timer
FOUR = "병 네 개"  # four bottles
PHRASES = (AGAIN, RASPBERRY, TIMER, FOUR, "온도 알려 주세요", "다음 단계")


def said(*phrases: str) -> Samples:
    return after_silence(*(spoken(phrase, KOREAN) for phrase in phrases))


@pytest.mark.parametrize("phrase", [AGAIN, RASPBERRY, TIMER, FOUR])
def test_a_phrase_of_the_list_is_heard(vosk_ears: VoskEars, phrase: str) -> None:
    vosk_ears.expect(PHRASES)
    (heard,) = vosk_ears.hear(said(phrase))
    assert heard.text == phrase
    assert heard.engine == "vosk"
    assert not heard.partial
    assert heard.sure > 0.9
    assert heard.guesses[0].text == phrase
    # The engine dithers the sound by chance: between runs the share moves, seen down to 0.8.
    assert heard.guesses[0].share > 0.5


def test_utterances_come_in_order(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(PHRASES)
    assert [h.text for h in vosk_ears.hear(said(TIMER, RASPBERRY, FOUR))] == [
        TIMER, RASPBERRY, FOUR,
    ]  # fmt: skip


def test_the_list_bounds_what_is_heard(vosk_ears: VoskEars) -> None:
    """Known of Vosk: what is not in the list is pressed into it, at times with much confidence."""
    vosk_ears.expect((RASPBERRY, FOUR))
    words = {word for phrase in (RASPBERRY, FOUR) for word in phrase.split()}
    for heard in vosk_ears.hear(said(TIMER, AGAIN)):
        assert set(heard.text.split()) <= words


def test_another_list_counts_from_the_next_utterance(vosk_ears: VoskEars) -> None:
    vosk_ears.expect((FOUR,))
    found = []
    for heard in vosk_ears.listen(iter(cut_up(said(FOUR, TIMER), 1024))):
        if not heard.partial:
            found.append(heard.text)
            vosk_ears.expect((TIMER,))
    assert found == [FOUR, TIMER]


def test_without_a_list_anything_may_be_heard(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(())
    (heard,) = vosk_ears.hear(said(RASPBERRY))
    assert heard.text == RASPBERRY


def test_doubtful_speech_has_alternatives_and_less_certainty(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(PHRASES)
    noisy = at_snr(spoken(TIMER, KOREAN), fan(4), -3)
    heards = [*vosk_ears.hear(noisy), *vosk_ears.hear(said("가 나 다 라"))]
    assert heards
    for heard in heards:
        shares = [guess.share for guess in heard.guesses]
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) <= 1 + 1e-6
        assert len({guess.text for guess in heard.guesses}) == len(heard.guesses)
    assert min(heard.sure for heard in heards) < 0.9
    assert max(len(heard.guesses) for heard in heards) > 1


def test_words_are_shown_while_they_are_spoken(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(PHRASES)
    heards = list(vosk_ears.listen(iter(cut_up(said("온도 알려 주세요"), 1024))))
    partials, last = heards[:-1], heards[-1]
    assert partials
    assert all(heard.partial and heard.sure == 0 for heard in partials)
    assert not last.partial
    assert last.text == "온도 알려 주세요"
    shown = [heard.text for heard in partials]
    assert all(a != b for a, b in pairwise(shown)), "the same words were shown twice running"
    assert shown[0] != last.text


def test_an_utterance_is_given_at_its_end_not_at_the_end_of_the_stream(
    vosk_ears: VoskEars,
) -> None:
    vosk_ears.expect(PHRASES)
    used = 0

    def blocks() -> Iterator[Samples]:
        nonlocal used
        for block in cut_up(np.concatenate([said(TIMER), silence(20)]), 1024):
            used += 1
            yield block

    final = next(h for h in vosk_ears.listen(blocks()) if not h.partial)
    assert final.text == TIMER
    assert used * 1024 < len(said(TIMER)) + 16_000


@pytest.mark.parametrize("parts", [("병", "네 개"), ("다시", "말해 주세요")])
def test_a_pause_longer_than_vosk_s_own_does_not_cut_a_phrase(
    vosk_ears: VoskEars, parts: tuple[str, str]
) -> None:
    """The model's configuration ends an utterance after half a second of silence; we do not."""
    vosk_ears.expect(PHRASES)
    start, end = (spoken(part, KOREAN) for part in parts)
    paused = after_silence(np.concatenate([start, silence(0.55), end]))
    (heard,) = [h for h in vosk_ears.listen(iter(cut_up(paused, 1024))) if not h.partial]
    assert heard.text == " ".join(parts)


@pytest.mark.parametrize(
    "noise", [silence(3), fan(3, 0.2), boiling(3, 0.3), white(3, 0.1), silence(0)]
)
def test_noise_gives_nothing(vosk_ears: VoskEars, noise: Samples) -> None:
    vosk_ears.expect(PHRASES)
    assert vosk_ears.hear(noise) == []
    assert list(vosk_ears.listen(iter(cut_up(noise, 1024)))) == []


def test_the_same_sound_gives_the_same_words_whatever_came_before(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(PHRASES)

    def told() -> list[Heard]:
        heards = vosk_ears.hear(said(FOUR))
        return [heard.model_copy(update={"seconds": 0.0}) for heard in heards]

    first = told()
    vosk_ears.hear(said(TIMER, AGAIN))
    assert told() == first


@pytest.mark.parametrize(
    "odd", ["raspberry", "<eps>", "</s>", "#0", "[unk]", "a\0b", '"', "\\", "\n", ""]
)
def test_words_that_the_model_lacks_do_no_harm(vosk_ears: VoskEars, odd: str) -> None:
    """Given as they are, some of them end the whole program inside libvosk."""
    vosk_ears.expect((odd,))
    assert vosk_ears.hear(said(RASPBERRY)) == []
    vosk_ears.expect((RASPBERRY, odd, f"{RASPBERRY} {odd}"))
    assert [heard.text for heard in vosk_ears.hear(said(RASPBERRY))] == [RASPBERRY]
    assert set(vosk_ears.unknown) == set(odd.split())


def test_what_was_cut_is_not_believed(korean_model: Path, loaded_vosk: VoskEars) -> None:
    assert korean_model.is_dir()
    ears = loaded_vosk
    before, ears._pauses = ears._pauses, Pauses(longest=0.6)
    try:
        ears.expect(PHRASES)
        heards = ears.hear(said("온도 알려 주세요"))
    finally:
        ears._pauses = before
    assert heards
    assert heards[0].sure == 0


def test_time_spent_is_told(vosk_ears: VoskEars) -> None:
    vosk_ears.expect(PHRASES)
    (heard,) = vosk_ears.hear(said(RASPBERRY))
    assert heard.seconds > 0


def test_a_folder_that_only_looks_like_a_model_is_refused(tmp_path: Path) -> None:
    with pytest.raises(EarsMissing, match="can't be loaded"):
        VoskEars(make_model(tmp_path / "model"))
    with pytest.raises(EarsMissing, match="can't be loaded"):
        VoskEars(make_model(tmp_path / "fixed", FIXED))


def test_a_model_with_a_damaged_graph_is_refused(korean_model: Path, tmp_path: Path) -> None:
    """libvosk loads it without complaint; only the first recogniser fails."""
    copy = tmp_path / "model"
    for path in korean_model.rglob("*"):
        place = copy / path.relative_to(korean_model)
        place.mkdir(parents=True) if path.is_dir() else place.symlink_to(path)
    graph = copy / "graph/HCLr.fst"
    half = graph.read_bytes()[: graph.stat().st_size // 2]
    graph.unlink()
    graph.write_bytes(half)
    with pytest.raises(EarsMissing, match="can't be loaded"):
        VoskEars(copy)


def test_another_list_needs_no_loading(
    vosk_ears: VoskEars, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vosk.Model", None)
    for phrase in (FOUR, TIMER, RASPBERRY):
        vosk_ears.expect((phrase,))
        assert [heard.text for heard in vosk_ears.hear(said(phrase))] == [phrase]


def test_sound_outside_the_list_is_not_shown_as_words(vosk_ears: VoskEars) -> None:
    vosk_ears.expect((RASPBERRY,))
    heards = vosk_ears.listen(iter(cut_up(said("온도 알려 주세요", RASPBERRY), 1024)))
    assert all("[unk]" not in heard.text for heard in heards if heard.partial)
