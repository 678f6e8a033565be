"""What cook answers: lines with facts in them, not yet words.

`say` turns a line into a sentence: its words stand under the line's id in `assistant/say/words/`,
or come along in `text` where a recipe or a limit brings its own.
"""

from collections.abc import Mapping
from typing import Literal

from pydantic import BaseModel, ConfigDict

from assistant.units import Unit

Rank = Literal["limit", "caution", "question", "do", "answer", "read_back", "detail"]
"""Most urgent first. `detail` is shown, and spoken only when the cook asks for more."""


class Quantity(BaseModel):
    """An amount to be said: value, unit, and the spread where the inputs were uncertain.

    exact : said with the digits given (a reading read back), not rounded for the scales
    """

    model_config = ConfigDict(frozen=True)

    value: float
    unit: Unit
    low: float | None = None
    high: float | None = None
    exact: bool = False


Fact = Quantity | str | int


class Line(BaseModel):
    """One sentence to be: its id, the facts that go in, and how urgent it is."""

    model_config = ConfigDict(frozen=True)

    id: str
    rank: Rank
    facts: Mapping[str, Fact] = {}
    text: str | None = None
    repeat: str | None = None
    """Name of the fact to say once more at the end: an amount that must not be misheard."""


class Reply(BaseModel):
    """The lines of one answer, in the order they should be heard.

    stopped : a limit holds the batch here until it is put right.
    """

    model_config = ConfigDict(frozen=True)

    lines: tuple[Line, ...] = ()
    stopped: bool = False
