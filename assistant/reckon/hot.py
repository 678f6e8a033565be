"""Questions about heat in the bottle: hot fill, and what heat does to the yeast of syrup."""

from collections.abc import Callable
from math import inf, isinf

from assistant.calc import yeast_death as yeast
from assistant.calc.answer import Answer
from assistant.calc.hot_fill import SETTLED_S, hot_filled

_CAP = (
    "Neck and cap are touched by no syrup: lay the bottle down at once, for some minutes (common "
    "practice, no source). This reckoning does not speak for them."
)
_NOT_A_PROCESS = (
    "Hot fill at home is no tested process: keep the bottle in the fridge all the same."
)
_CRACKS = "Cold or wet glass cracks: warm the bottles first, and fill over a tray."
_SPORES = "Mould spores outlive this, and yeast gets in again with every opening."
_ROJO = (
    "Rojo et al. (2019) found 7 decades after 90 s at 75 and at 80 C, and write that more than 75 "
    "is needed: go a little higher."
)


def hot_fill(
    *,
    bottle_ml: float,
    glass_g: float,
    brix: float,
    fill_c: float,
    glass_c: float = 20.0,
    room_c: float = 20.0,
    above_c: float = 75.0,
) -> Answer:
    """How long the coldest syrup in a bottle filled hot stays hot.

    bottle_ml : syrup in it [ml]; glass_g : weight of the empty bottle [g]; brix : of the syrup
    fill_c, glass_c, room_c : syrup as it runs in, bottle before, air around it [C]
    above_c : temperature to stay above [C]
    """
    bottle = hot_filled(bottle_ml, glass_g, brix, fill_c, glass_c, room_c)
    stays = bottle.stays_above(above_c)
    minute = bottle.coldest(SETTLED_S)
    mixed = bottle.mixed_c
    return Answer(
        answer=f"Glass and syrup meet at about {mixed.likely:.0f} C. Against the glass it is above "
        f"{above_c:g} C for about {_time(stays.likely)}, but perhaps only {_time(stays.low)}.",
        values={
            "mixed_c": mixed.likely,
            "coldest_after_minute_c": minute.likely,
            "coldest_after_minute_low_c": minute.low,
            "above_s": stays.likely,
            "above_low_s": stays.low,
            "above_high_s": stays.high,
        },
        working=(
            f"heat balance of syrup at {fill_c:g} C and {glass_g:g} g of glass at {glass_c:g} C: "
            f"{mixed.low:.1f} to {mixed.high:.1f} C",
            f"then towards {room_c:g} C with a time constant of "
            f"{bottle.time_constant_s.low / 60:.0f} to {bottle.time_constant_s.high / 60:.0f} min",
            f"the layer at the glass is ahead by {100 * bottle.wall_share.low:.0f} to "
            f"{100 * bottle.wall_share.high:.0f} % of the way",
        ),
        source="heat balance and Newton's law of cooling; heat transfer and glass from memory, so "
        "the spread is wide; no published table was found to hold it against",
        valid="bottles of 50 to 5000 ml standing alone in still air, closed, 40 to 100 C",
        cautions=(_CAP, _NOT_A_PROCESS, _CRACKS),
    )


def _time(seconds: float) -> str:
    return f"{seconds:.0f} seconds" if seconds < 90 else f"{seconds / 60:.0f} minutes"


def yeast_kill(*, brix: float, temp_c: float, held_s: float = 90.0) -> Answer:
    """What a hold does to the yeast that grows in syrup.

    brix : of what is heated, 0 to 68; temp_c : the coolest it gets [C]; held_s : time there [s]
    """
    each = yeast.decade_seconds(temp_c, brix) or inf
    killed = yeast.decades_killed(temp_c, held_s, brix)
    by = "Lee et al. (2023)" if brix <= yeast.LEE_BRIX else "Rojo et al. (2019)"
    return Answer(
        answer=f"{held_s:g} seconds at {temp_c:g} C in {brix:g} Brix kill at least {killed:.1f} "
        "decades of sugar-loving yeast"
        + (
            ": nobody has measured any so cold."
            if isinf(each)
            else "; 5 are what juice is held to."
        ),
        values={"decades": killed}
        if isinf(each)
        else {"decades": killed, "decade_s": each, "five_decades_s": 5 * each},
        working=(
            f"{by}: "
            + ("no time is counted" if isinf(each) else f"nine of ten die in {each:.1f} s at most"),
            "hotter than they tried counts as what they tried; thicker than 68 Brix nobody tried",
        ),
        source="Lee et al. (2023), AIMS Agriculture and Food 8, 662 (52 Brix grape concentrate, "
        "50 to 60 C); Rojo et al. (2019), Food Bioprocess Technol. 12, 781 (thicker, 75 to 85 C)",
        valid="0 to 68 Brix; Zygosaccharomyces rouxii in grape; the coolest of what is heated",
        cautions=(
            *((_ROJO,) if brix > yeast.LEE_BRIX else ()),
            "Sugar that goes in after the hold was not heated with it.",
            _SPORES,
        ),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {"hot-fill": hot_fill, "yeast-kill": yeast_kill}
