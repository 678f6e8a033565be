"""Ears on Vosk: held to a phrase list, with words shown while they are being spoken."""

import json
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from assistant.base.errors import EarsMissing
from assistant.hear.audio import to_pcm16
from assistant.hear.heard import SAMPLE_RATE, EngineName, Guess, Heard, Rivals, Samples
from assistant.hear.shares import shares
from assistant.hear.voice_activity import Pauses, Piece, pieces
from assistant.hear.vosk_model import checked, takes_phrases

UNKNOWN = "[unk]"
"""What Vosk's English models write for sound that is no word of the phrase list."""
_ALTERNATIVES = 5


class VoskEars:
    """A Vosk model behind the voice-activity gate, which also decides where an utterance ends.

    model : folder of the model
    phrases : what may be said; anything when empty or when the model can't be held to a list
    pauses : where an utterance ends
    timer : seconds of some clock, for `Heard.seconds`
    Raises EarsMissing when the folder holds no model that can be loaded.
    """

    name: EngineName = "vosk"

    def __init__(
        self,
        model: Path,
        *,
        phrases: tuple[str, ...] = (),
        pauses: Pauses | None = None,
        timer: Callable[[], float] = time.perf_counter,
    ) -> None:
        self._engine = _Engine(checked(model))
        self._pauses = pauses or Pauses()
        self._timer = timer
        self.why = f"Vosk listens, with the model in {model}."
        self.expect(phrases)

    def expect(self, phrases: tuple[str, ...]) -> None:
        """Hold the recogniser to these phrases from the next utterance on; () allows anything."""
        self._engine.hold_to(phrases)

    @property
    def unknown(self) -> tuple[str, ...]:
        """Words of the phrase list that the model doesn't have, and so can never be heard."""
        return self._engine.unknown

    def hear(self, samples: Samples) -> list[Heard]:
        """The utterances in a recording, in order."""
        return [heard for heard in self.listen(iter([samples])) if not heard.partial]

    def listen(self, blocks: Iterator[Samples]) -> Iterator[Heard]:
        """Words while they are spoken, as partials, and each utterance when it has ended."""
        turn: _Turn | None = None
        for piece in pieces(blocks, self._pauses):
            turn = turn or _Turn(self._engine, self._timer)
            heard = turn.feed(piece)
            if heard is not None:
                yield heard
            if piece.last:
                turn = None

    def weigh(self, heard: Heard, rivals: Rivals) -> Heard:  # noqa: ARG002
        """Vosk listens alone: its own shares are all there is."""
        return heard


class _Engine:
    """A loaded model and the recognisers made on it."""

    def __init__(self, folder: Path) -> None:
        import vosk

        vosk.SetLogLevel(-1)
        self._recogniser = vosk.KaldiRecognizer
        self._holds = takes_phrases(folder)
        self._grammar = ""
        self.unknown: tuple[str, ...] = ()
        try:
            self._model = vosk.Model(str(folder))
            self.recogniser()  # some damaged models load, but can't be used
        except Exception as broken:  # Vosk raises bare exceptions
            raise EarsMissing(
                f"The Vosk model in {folder} can't be loaded ({broken}); unpack it again."
            ) from broken

    def hold_to(self, phrases: tuple[str, ...]) -> None:
        """Set the phrase list. libvosk gets only words it has: some others end the program."""
        words = dict.fromkeys(word for phrase in phrases for word in phrase.split())
        known = {word for word in words if self._has(word)}
        self.unknown = tuple(word for word in words if word not in known)
        kept = (" ".join(w for w in phrase.split() if w in known) for phrase in phrases)
        listed = [phrase for phrase in dict.fromkeys(kept) if phrase]
        if phrases and self._model.vosk_model_find_word(UNKNOWN) > 0:
            listed.append(UNKNOWN)
        self._grammar = json.dumps(listed or [""], ensure_ascii=False) if phrases else ""

    def _has(self, word: str) -> bool:
        plain = word[0].isalnum() and word.isprintable()
        return plain and self._model.vosk_model_find_word(word) > 0

    def recogniser(self, alternatives: int = 0) -> Any:
        """A fresh recogniser: word confidences, or n alternatives with path scores only."""
        held = (self._grammar,) if self._grammar and self._holds else ()
        made = self._recogniser(self._model, SAMPLE_RATE, *held)
        made.SetWords(alternatives == 0)
        made.SetMaxAlternatives(alternatives)
        return made


class _Turn:
    """One utterance being recognised.

    Two recognisers are fed while the cook speaks: Vosk gives either the confidence of each word or
    alternatives, not both. Their own endpoints are passed over, so that a pause within a number
    does not cut it.
    """

    def __init__(self, engine: _Engine, timer: Callable[[], float]) -> None:
        self._timer = timer
        self._live = engine.recogniser()
        self._other = engine.recogniser(_ALTERNATIVES)
        self._shown = ""
        self._spent = 0.0

    def feed(self, piece: Piece) -> Heard | None:
        """What is new after this piece: a partial, or the utterance when the piece is its last."""
        begun = self._timer()
        pcm = to_pcm16(piece.samples)
        if pcm:
            self._live.AcceptWaveform(pcm)
            self._other.AcceptWaveform(pcm)
        found = self._final(piece.cut) if piece.last else self._partial()
        self._spent += self._timer() - begun
        if found is None or found.partial:
            return found
        return found.model_copy(update={"seconds": self._spent})

    def _partial(self) -> Heard | None:
        found = str(json.loads(self._live.PartialResult()).get("partial", ""))
        text = " ".join(word for word in found.split() if word != UNKNOWN)
        if not text or text == self._shown:
            return None
        self._shown = text
        return Heard(text=text, guesses=(), sure=0.0, engine="vosk", partial=True)

    def _final(self, cut: bool) -> Heard | None:
        words = json.loads(self._live.FinalResult())
        guesses = _guesses(json.loads(self._other.FinalResult()))
        if not guesses or not set(guesses[0].text.split()) - {UNKNOWN}:
            return None
        text = guesses[0].text
        sure = 0.0 if cut else _certainty(words, text, guesses)
        return Heard(text=text, guesses=guesses, sure=sure, engine="vosk")


def _guesses(result: dict[str, Any]) -> tuple[Guess, ...]:
    """Path scores are natural logarithms, so their softmax is the lattice's own belief."""
    found = result.get("alternatives", [])
    return shares((str(each["text"]), float(each["confidence"])) for each in found)


def _certainty(words: dict[str, Any], text: str, guesses: tuple[Guess, ...]) -> float:
    """The confidence of the weakest word; less where both recognisers differ."""
    said = words.get("result", [])
    weakest = min((float(w["conf"]) for w in said if w["word"] != UNKNOWN), default=0.0)
    if UNKNOWN in text.split():
        return 0.0
    if words.get("text") != text:
        share = next((g.share for g in guesses if g.text == words.get("text")), 0.0)
        weakest = min(weakest, share)
    return min(1.0, max(0.0, weakest))
