"""The second opinion itself, on a recording and on speech made by espeak."""

import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sounds import after_silence, at_snr, shaped, silence, spoken

from assistant.base.errors import EarsMissing
from assistant.hear import moonshine_model
from assistant.hear.heard import Heard, Rivals, Samples
from assistant.hear.moonshine_model import MoonshineModel, _highest, second_folder
from assistant.hear.moonshine_tokens import END, Tokens
from assistant.hear.second_opinion import KEPT, Opinion, SecondOpinion, second_opinion
from assistant.hear.shares import plain
from assistant.hear.whisper_ears import WhisperEars

pytestmark = pytest.mark.audio

DEGREES = after_silence(spoken("seventy two degrees"), gap=0.3)
TEXTS = ("Seventy two degrees.", "Seventeen degrees.", "Nine hundred grams.", "Stop the timer.")


@pytest.fixture(scope="module")
def model() -> MoonshineModel:
    return MoonshineModel(second_folder())


@pytest.fixture(scope="module")
def encoded(model: MoonshineModel) -> Samples:
    found = model.encode(DEGREES)
    assert found is not None
    return found


@pytest.mark.parametrize("text", ["seventy two degrees", "stop the timer", "twelve bottles"])
def test_what_is_said_is_among_the_guesses(model: MoonshineModel, text: str) -> None:
    encoded = model.encode(after_silence(spoken(text), gap=0.3))
    assert encoded is not None
    found = [plain(each.text).replace("-", " ") for each in model.likeliest(encoded)]
    assert text in found


@given(
    st.lists(st.integers(-30, 30), min_size=1, max_size=300), st.integers(1, 12), st.integers(0, 99)
)
def test_the_highest_are_found(many: list[int], count: int, seed: int) -> None:
    values = np.array(many) + np.random.default_rng(seed).random(len(many))
    found = _highest(values, count)
    assert found.tolist() == np.argsort(-values)[:count].tolist()


def test_guesses_are_ordered_and_differ(model: MoonshineModel, encoded: Samples) -> None:
    found = model.likeliest(encoded, 4)
    logs = [each.logprob for each in found]
    assert logs == sorted(logs, reverse=True)
    assert len({each.text for each in found}) == len(found) == 4
    assert sum(map(np.exp, logs)) <= 1


def test_what_was_said_leads(model: MoonshineModel, encoded: Samples) -> None:
    assert min(model.leads(encoded, TEXTS[0], TEXTS[1:])) > 2
    assert model.leads(encoded, TEXTS[2], (TEXTS[0],))[0] < -2


def test_a_lead_is_the_same_the_other_way_round(model: MoonshineModel, encoded: Samples) -> None:
    one, other = "Seventy degrees.", "Seventeen degrees."
    (there,) = model.leads(encoded, one, (other,))
    (back,) = model.leads(encoded, other, (one,))
    assert there == pytest.approx(-back, abs=0.5)
    assert model.leads(encoded, one, (one,)) == (0.0,)


def test_noise_makes_it_less_sure(model: MoonshineModel, encoded: Samples) -> None:
    noisy = model.encode(at_snr(spoken("seventy two degrees"), shaped(4, 0.1, 1.0), 0))
    assert noisy is not None
    assert model.likeliest(noisy)[0].logprob < model.likeliest(encoded)[0].logprob


@pytest.mark.parametrize("seconds", [0.0, 0.05])
def test_a_blink_of_sound_is_no_speech(model: MoonshineModel, seconds: float) -> None:
    assert model.encode(silence(seconds)) is None
    assert SecondOpinion(model).on(silence(seconds))() == Opinion()


def test_silence_does_not_run_on(model: MoonshineModel) -> None:
    encoded = model.encode(silence(1.0))
    assert encoded is not None
    assert all(len(each.text.split()) < 15 for each in model.likeliest(encoded))


def test_ears_carry_the_second_opinion(model: MoonshineModel) -> None:
    ears = WhisperEars(second=SecondOpinion(model))
    (heard,) = ears.hear(after_silence(spoken("seventy two degrees")))
    assert "degrees" in plain(heard.second[0].text)
    against = Rivals(text=TEXTS[0], others=TEXTS[1:])
    weighed = ears.weigh(heard, against)
    assert weighed.leads is not None
    assert min(weighed.leads.by) > 2
    assert Heard.model_validate_json(weighed.model_dump_json()) == weighed
    named = ears.weigh(heard, Rivals(text=TEXTS[0], others=TEXTS[1:], before="Marigold,"))
    assert named.leads is not None
    assert named.leads.by != weighed.leads.by


def test_a_model_that_fails_while_weighing_weighs_nothing(
    model: MoonshineModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    ears = WhisperEars(second=SecondOpinion(model))
    (heard,) = ears.hear(after_silence(spoken("seventy two degrees")))
    monkeypatch.setattr(model, "_run", lambda *_: 1 / 0)
    assert ears.weigh(heard, Rivals(text=TEXTS[0], others=TEXTS[1:])) == heard


def test_a_sound_of_long_ago_is_weighed_no_more(model: MoonshineModel) -> None:
    second = SecondOpinion(model)
    first, *_ = [second.on(DEGREES)().sound for _ in range(KEPT + 1)]
    assert first is not None
    against = Rivals(text=TEXTS[0], others=TEXTS[1:])
    assert second.weigh(first, against) is None
    assert second.weigh(first + 1, against) is not None


def test_ears_without_it_have_none(whisper_ears: WhisperEars) -> None:
    (heard,) = whisper_ears.hear(after_silence(spoken("seventy two degrees")))
    assert (heard.second, heard.sound) == ((), None)


@pytest.mark.parametrize(
    "text", ["Seventy two degrees.", "p h 3.25", "It's at 72°C", "Crème fraîche, 1½", "", "a  b"]
)
def test_a_text_is_cut_and_put_together_again(text: str) -> None:
    tokens = Tokens(second_folder() / "tokenizer.bin")
    cut = tokens.cut(text)
    assert tokens.text(cut) == " ".join(text.split(" ")).strip()
    assert all(token > END for token in cut)


def test_words_are_whole_tokens() -> None:
    tokens = Tokens(second_folder() / "tokenizer.bin")
    assert len(tokens.cut("point four degrees")) == 3


def spoiled(folder: Path, name: str, content: bytes | None) -> Path:
    """A copy of the package's folder with one file spoiled."""
    inner = folder / "moonshine_voice" / "assets" / "tiny-en"
    inner.mkdir(parents=True)
    for path in second_folder().iterdir():
        (inner / path.name).symlink_to(path)
    (inner / name).unlink()
    if content is not None:
        (inner / name).write_bytes(content)
    return inner


@pytest.mark.parametrize("name", ["encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin"])
@pytest.mark.parametrize("content", [None, b""], ids=["gone", "empty"])
def test_a_folder_that_lacks_a_part_is_refused(
    name: str, content: bytes | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inner = spoiled(tmp_path, name, content)

    class Spec:
        submodule_search_locations = (str(inner.parents[1]),)

    monkeypatch.setattr(moonshine_model.importlib.util, "find_spec", lambda _: Spec)
    with pytest.raises(EarsMissing, match=f"lacks {re.escape(name)}; install it with"):
        second_folder()
    assert second_opinion() is None


def test_a_damaged_model_is_refused(tmp_path: Path) -> None:
    inner = spoiled(tmp_path, "encoder_model.ort", b"not a model")
    with pytest.raises(EarsMissing, match="can't be loaded"):
        MoonshineModel(inner)


def test_a_missing_package_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moonshine_model, "PACKAGE", "no_such_package_of_models")
    with pytest.raises(EarsMissing, match="not installed; install it with"):
        second_folder()
    assert second_opinion() is None


def test_long_speech_is_heard_too(model: MoonshineModel) -> None:
    """The first version failed on whatever took more than nine seconds."""
    sound = np.concatenate([after_silence(spoken("seventy two degrees"), gap=0.3)] * 9)
    assert len(sound) > 10 * 16_000
    encoded = model.encode(sound)
    assert encoded is not None
    found = model.likeliest(encoded, 2)
    assert plain(found[0].text).replace("-", " ").count("degrees") > 4
    assert len(model.leads(encoded, "Seventy two degrees.", ("Seventeen degrees.",))) == 1


def test_an_engine_that_fails_has_no_opinion() -> None:
    class Failing:
        def encode(self, samples: Samples) -> Samples:
            raise RuntimeError(f"broken at {len(samples)} samples")

    assert SecondOpinion(Failing()).on(DEGREES)() == Opinion()  # type: ignore[arg-type]
