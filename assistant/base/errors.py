"""Every error of this package, in one tree.

PansideError
├── WrongUse                exit 2   the command or its input was not right
│   ├── BadRecording                 a recording that can't be read as sound
│   ├── BadRecipe                    a recipe file that does not validate (file, line, mend)
│   ├── BadGrammar                   a grammar file that does not parse (file, line)
│   └── OutOfRange                   a number outside what a formula is valid for
├── LimitStopped            exit 3   a limit stopped the batch
└── SomethingMissing        exit 4   a thing that is needed is not there
    ├── EarsMissing                  no recogniser or no model for it
    │   └── ModelSpoiled             a model's file is not as it was published
    ├── VoiceMissing                 no speech synthesiser
    ├── SoundDeviceMissing           no microphone or no speaker
    ├── StoreUnusable                the journal can't be opened, read or written
    │   ├── StoreAway                the server that holds it does not answer
    │   ├── StoreReadOnly            the server takes no writing now: a replica, or in recovery
    │   ├── StoreSetBack             it holds less of a batch than was written
    │   └── AnotherSession           somebody else has written to the batch meanwhile
    │       └── LeaseLost            somebody else has taken the batch over
    └── WordsMissing                 a line of an answer that has no words, or lacks a fact

The message says what is wrong, where, and what to do; it is shown as it stands.
"""


class PansideError(Exception):
    """Base of all errors a user may meet; `exit_code` is what the command returns."""

    exit_code = 1


class WrongUse(PansideError):
    """The command or its input was not right."""

    exit_code = 2


class BadRecording(WrongUse):
    """A recording that can't be read as sound."""


class BadRecipe(WrongUse):
    """A recipe file that does not validate."""


class BadGrammar(WrongUse):
    """A grammar file that does not parse."""


class OutOfRange(WrongUse, ValueError):
    """A number outside the range a formula is valid for."""

    def __init__(self, what: str, value: float, low: float, high: float, unit: str = "") -> None:
        self.what, self.value, self.low, self.high, self.unit = what, value, low, high, unit
        super().__init__(what, value, low, high, unit)

    def __str__(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.what} of {self.value:g}{unit} is outside {self.low:g} to {self.high:g}{unit}"


class LimitStopped(PansideError):
    """A limit stopped the batch."""

    exit_code = 3


class SomethingMissing(PansideError):
    """A thing that is needed is not there."""

    exit_code = 4


class EarsMissing(SomethingMissing):
    """No recogniser, or no model for it."""


class ModelSpoiled(EarsMissing):
    """A model's file is not as it was published."""


class VoiceMissing(SomethingMissing):
    """No speech synthesiser."""


class PicturesMissing(SomethingMissing):
    """No renderer of PDF pages."""


class SoundDeviceMissing(SomethingMissing):
    """No microphone or no speaker."""


class StoreUnusable(SomethingMissing):
    """The journal can't be opened, read or written."""


class StoreAway(StoreUnusable):
    """The server that holds the journal does not answer; later it may."""


class StoreReadOnly(StoreUnusable):
    """The server only lets itself be read: a replica, or one that is still being put back."""


class StoreSetBack(StoreUnusable):
    """The store holds less of a batch than was written: exchanged, or restored from a backup."""


class AnotherSession(StoreUnusable):
    """Somebody else has written to the batch meanwhile; nothing was written."""


class LeaseLost(AnotherSession):
    """Somebody else has taken the batch over; nothing was written.

    lease : whose it is now
    """

    def __init__(self, words: str, lease: object) -> None:
        self.lease = lease
        super().__init__(words)


class WordsMissing(SomethingMissing):
    """A line of an answer that has no words, or lacks a fact that its words name."""
