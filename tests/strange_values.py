"""Values nobody expects, and ways to put them into files that were whole."""

import json
from typing import Any

from hypothesis import strategies as st

ODD: st.SearchStrategy[Any] = st.sampled_from(
    [None, True, -1, 0, 1, 1e-300, 1e12, 1e300, -1e300, 10**40, "", " ", "x" * 5000, "{fruit}",
     "{0}", "{amount.__class__}", "%s", "\x00", "\u202e", "é" * 300, "NaN", "Infinity", "g", "degC",
     "2026-07-04T00:00:00Z", "0001-01-01T00:00:00+00:00", "9999-12-31T23:59:59-23:59",
     [], {}, [[]], {"kind": "begin"}, ["fruit"] * 400]
)  # fmt: skip


def spoiled(value: Any, draw: Any) -> Any:
    """A value with one place in it replaced, taken away or doubled."""
    if isinstance(value, dict) and value and draw(st.integers(0, 9)) > 0:
        key = draw(st.sampled_from(sorted(value)))
        match draw(st.integers(0, 5)):
            case 0:
                return {k: v for k, v in value.items() if k != key}
            case 1:
                return {**value, draw(st.sampled_from(["more", "kind", "__class__"])): value[key]}
            case _:
                return {**value, key: spoiled(value[key], draw)}
    if isinstance(value, list) and value and draw(st.integers(0, 9)) > 0:
        at = draw(st.integers(0, len(value) - 1))
        match draw(st.integers(0, 5)):
            case 0:
                return value[:at] + value[at + 1 :]
            case 1:
                return [*value, value[at]]
            case _:
                return [*value[:at], spoiled(value[at], draw), *value[at + 1 :]]
    return draw(ODD)


@st.composite
def spoiled_lines(draw: Any, lines: list[str]) -> list[str]:
    """Lines of JSON of which some have been changed, swapped, cut or lost."""
    found = [json.loads(line) for line in lines]
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(found) - 1))
        found[at] = spoiled(found[at], draw)
    out = [json.dumps(each) for each in found]
    match draw(st.integers(0, 5)):
        case 0:
            cut = draw(st.integers(0, len(out) - 1))
            out[cut] = out[cut][: draw(st.integers(0, len(out[cut])))]
        case 1:
            del out[draw(st.integers(0, len(out) - 1))]
        case 2:
            out.insert(draw(st.integers(1, len(out))), draw(st.text(max_size=60)))
    return out
