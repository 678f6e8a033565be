"""The double behaves as ears do."""

import numpy as np

from assistant.hear.heard import Ears, Guess, Heard
from assistant.hear.scripted_ears import ScriptedEars

BLOCK = np.zeros(1024, dtype=np.float32)
DOUBTFUL = Heard(
    text="16",
    guesses=(Guess(text="16", share=0.6), Guess(text="60", share=0.4)),
    sure=0.5,
    engine="scripted",
)


def test_lines_come_in_order_one_for_each_recording() -> None:
    ears: Ears = ScriptedEars(["yes", None, DOUBTFUL, [DOUBTFUL, DOUBTFUL]])
    assert [heard.text for heard in ears.hear(BLOCK)] == ["yes"]
    assert ears.hear(BLOCK) == []
    assert ears.hear(BLOCK) == [DOUBTFUL]
    assert ears.hear(BLOCK) == [DOUBTFUL, DOUBTFUL]
    assert ears.hear(BLOCK) == []


def test_a_line_is_heard_with_each_block() -> None:
    partial = DOUBTFUL.model_copy(update={"partial": True})
    heards = ScriptedEars([None, partial, "done", "never"]).listen(iter([BLOCK] * 3))
    assert [(heard.text, heard.partial) for heard in heards] == [("16", True), ("done", False)]


def test_a_text_is_certain_and_phrase_lists_are_kept() -> None:
    ears = ScriptedEars(["done"])
    ears.expect(("done", "next"))
    ears.expect(())
    (heard,) = ears.hear(BLOCK)
    assert (heard.sure, heard.guesses[0].share, heard.engine) == (1.0, 1.0, "scripted")
    assert ears.expected == [("done", "next"), ()]
