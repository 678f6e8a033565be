"""What holds for every sentence: fillers keep a reading, a denial never tells one."""

from hypothesis import given
from hypothesis import strategies as st
from standing import hear, meant

FILLERS = ("um", "well", "okay so", "right", "sir", "now", "chef", "dear", "basically", "yeah")
FRAMES = ("it's at {} degrees", "the thermometer says {}", "we've got to {} now", "{} on the probe")
TALK = (
    *("curtain", "piano", "tram", "beach", "neighbour", "letter", "holiday", "garden", "carpet"),
    *("window", "cousin", "bicycle", "shoe", "guitar", "postcard", "ladder", "cushion", "museum"),
)
VERBS = ("painted", "lost", "sold", "visited", "dropped", "carried", "found", "borrowed")
degrees = st.integers(min_value=21, max_value=74).filter(lambda n: n % 10 and not 13 <= n <= 19)


@given(degrees, st.sampled_from(FRAMES), st.lists(st.sampled_from(FILLERS), min_size=1, max_size=3))
def test_fillers_before_a_reading_keep_it(number: int, frame: str, fillers: list[str]) -> None:
    found = hear(f"{' '.join(fillers)} {frame.format(number)}", "heat")
    assert meant(found) == f"temperature {number} degC"


@given(
    degrees,
    st.sampled_from(
        [
            "it isn't at {} degrees",
            "it's not {} yet",
            "I haven't measured {}",
            "it never got to {}",
            "I'll heat it to {}",
            "is {} too hot",
            "if it gets to {} tell me",
            "wait until it hits {}",
            "the recipe wants {} degrees",
            "my neighbour goes to {}",
            "I want it at {}",
        ]
    ),
)
def test_what_is_denied_planned_asked_or_heard_is_never_taken(number: int, frame: str) -> None:
    found = hear(frame.format(number), "heat")
    assert not found.events
    assert found.question is None


@given(
    st.sampled_from(["crush", "heat", "juice", "ph", "bottle", "shelf", "weigh"]),
    st.integers(min_value=2, max_value=90),
    st.sampled_from(VERBS),
    st.lists(st.sampled_from(TALK), min_size=3, max_size=5, unique=True),
)
def test_talk_about_other_things_is_never_taken(
    where: str, number: int, verb: str, things: list[str]
) -> None:
    first, second, *rest = things
    line = f"they {verb} {number} {first}s near the {second} and the {' '.join(rest)}"
    assert not hear(line, where).events


@given(st.text(max_size=120), st.sampled_from(["crush", "heat", "bottle", "shelf", "option"]))
def test_any_text_is_survived(text: str, where: str) -> None:
    assert hear(text, where).verdict in ("take", "ask", "refuse")
