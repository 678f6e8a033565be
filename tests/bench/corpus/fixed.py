"""Sayings without a number, and what each means."""

from typing import Any

Meaning = dict[str, Any]
Saying = tuple[str, str, Meaning, str]


def _each(texts: str, awaiting: str, event: Meaning, family: str) -> list[Saying]:
    return [(text.strip(), awaiting, event, family) for text in texts.split("|")]


def _ask(texts: str, topic: str, about: str = "") -> list[Saying]:
    event = {"kind": "ask", "topic": topic} | ({"about": about} if about else {})
    return _each(texts, "step", event, "question")


SAYINGS: tuple[Saying, ...] = (
    *_each(
        "done|next|next step|go on|carry on|continue|move on|ready|i'm ready|it's ready|finished|"
        "i've finished|that's in|it's in|it's all in|all in|that's done|all done|i've done it|"
        "strained|it's strained|the sugar is in|i've added it|the water is in|go ahead|we're ready|"
        "i've done that|added the sugar|the juice is in|the acid is in",
        "step", {"kind": "onward"}, "onward",
    ),
    *_each(
        "scratch that|undo|undo that|take that back|forget that|cancel that|that was wrong|"
        "that's wrong|that's not right",
        "temperature", {"kind": "undo"}, "undo",
    ),
    *_each(
        "yes|yep|yeah|yes please|that's right|correct|yes it is|that is right|that's it|right",
        "question", {"kind": "yes"}, "yes or no",
    ),
    *_each("no|nope|no thanks|no thank you|no it isn't", "question", {"kind": "no"}, "yes or no"),
    *_each(
        "say that again|say again|again|repeat that|pardon|what was that|what did you say|"
        "once more|come again|i didn't catch that|can you repeat that|say it again|"
        "could you say that again",
        "temperature", {"kind": "say_again"}, "say again",
    ),
    *_each(
        "stop the timer|cancel the timer|turn off the timer|timer off|end the timer",
        "step", {"kind": "timer_stop"}, "timer stop",
    ),
    *_each(
        "stop|stop listening|goodbye|that's all", "step", {"kind": "stop"}, "stop"
    ),
    *_ask("how much sugar|how much sugar do i need|how much sugar goes in|what about the sugar|"
          "how much sugar do we add", "how_much", "sugar"),
    *_ask("how much water|how much water do we need|how much water should i add",
          "how_much", "water"),
    *_ask("how much citric acid|how much acid do i add|how much citric acid goes in",
          "how_much", "citric_acid"),
    *_ask("how much sorbate|how much sorbate do i need", "how_much", "sorbate"),
    *_ask("how long does it keep|how long will it keep|how long will the syrup keep|"
          "what's the best before date|when does it go off|how long can i keep it", "keep"),
    *_ask("how long does it keep in the fridge|how long will it last in the fridge",
          "keep", "fridge"),
    *_ask("where are we|where am i|what step is this|where were we|what are we doing", "where"),
    *_ask("what's next|what next|what do i do now|what do we do next|what comes next|what now",
          "next"),
    *_ask("why|why is that|how come|what for|why do we do that", "why"),
    *_ask("what can i say|what can i ask|what do i say", "say_what"),
    *_ask("help|help me|i need help|can you help me", "help"),
    *_ask("tell me more|more please|say more|more details", "more"),
    *_ask("how long is left|how much longer|how long to go|how much time is left|"
          "how long is left on the timer", "how_long"),
    *_ask("how many bottles|how many bottles do i need|how many bottles will it make", "bottles"),
    *_ask("what's the limit|what are the limits|is it safe to bottle|is it safe to drink", "limit"),
)  # fmt: skip
BEFORE = ("", "", "", "", "okay ", "right, ", "um ", "well ", "so ")
AFTER = ("", "", "", "", "", " please", " now")
BARE = frozenset(("yes or no", "stop", "undo"))
"""Families that are said without a word before or after."""
FAMILIES = frozenset(family for *_, family in SAYINGS)
