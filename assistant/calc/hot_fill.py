"""A bottle filled hot: how far the glass cools the syrup, how long its coldest layer stays hot.

Cold glass takes its share at once; then the bottle cools to the room by Newton's law. The coldest
syrup lies against the glass. The neck and the cap are touched by no syrup until the bottle is laid
down: nothing here speaks for them.
"""

from dataclasses import dataclass
from math import exp, log, pi

from assistant.calc.bounds import inside
from assistant.calc.density_hot import hot_density
from assistant.calc.heat import Part, cp_syrup, mixing_temperature
from assistant.calc.spread import Spread

GLASS_CP = Spread(0.75, 0.84, 0.90)
"""Bottle glass: from memory. [J/(g K)]"""
TO_ROOM = Spread(6.0, 10.0, 15.0)
"""Still air and radiation around a warm bottle; a draught or a wet cloth takes more. From memory.
[W/(m2 K)]"""
TO_GLASS = Spread(40.0, 100.0, 250.0)
"""Syrup moving by itself along the glass: thick syrup little, thin much. From memory. [W/(m2 K)]"""
SLENDER = 3.0
"""Height of a bottle over its width: common practice, no source. [-]"""
SETTLED_S = 60.0
"""Before this the glass is still taking its heat: this project's own. [s]"""


@dataclass(frozen=True)
class HotFill:
    """A bottle just filled.

    mixed_c : when glass and syrup have met [degC]; room_c : around it [degC]
    time_constant_s : of its cooling [s]; wall_share : of the way to the room that the syrup at the
    glass is ahead [-]
    """

    mixed_c: Spread
    room_c: float
    time_constant_s: Spread
    wall_share: Spread

    def coldest(self, seconds: float) -> Spread:
        """The syrup at the glass so long after filling. [degC]

        Valid for 0 to 86400 s, else OutOfRange.
        """
        inside("time", seconds, 0.0, 86_400.0, "s")
        low = self._at(seconds, self.mixed_c.low, self.time_constant_s.low, self.wall_share.high)
        likely = self._at(
            seconds, self.mixed_c.likely, self.time_constant_s.likely, self.wall_share.likely
        )
        high = self._at(seconds, self.mixed_c.high, self.time_constant_s.high, self.wall_share.low)
        return Spread(low, likely, high)

    def _at(self, seconds: float, mixed_c: float, constant_s: float, wall: float) -> float:
        return self.room_c + (mixed_c - self.room_c) * (1 - wall) * exp(-seconds / constant_s)

    def stays_above(self, temp_c: float) -> Spread:
        """How long the syrup at the glass stays above a temperature, 0 where it never is. [s]

        Valid for temperatures above the room's, else OutOfRange.
        """
        inside("temperature", temp_c, self.room_c + 0.1, 105.0, "degC")
        ends = (
            (self.mixed_c.low, self.time_constant_s.low, self.wall_share.high),
            (self.mixed_c.likely, self.time_constant_s.likely, self.wall_share.likely),
            (self.mixed_c.high, self.time_constant_s.high, self.wall_share.low),
        )
        return Spread(*(self._until(temp_c, *end) for end in ends))

    def _until(self, temp_c: float, mixed_c: float, constant_s: float, wall: float) -> float:
        start = (mixed_c - self.room_c) * (1 - wall)
        return max(0.0, constant_s * log(max(start, 1e-9) / (temp_c - self.room_c)))


def hot_filled(
    bottle_ml: float,
    glass_g: float,
    brix: float,
    fill_c: float,
    glass_c: float = 20.0,
    room_c: float = 20.0,
) -> HotFill:
    """A bottle filled with hot syrup, standing in still air.

    Parameters
    ----------
    bottle_ml : float
        Syrup in it. [ml]
    glass_g : float
        Weight of the empty bottle. [g]
    brix : float
        Of the syrup. [mass %]
    fill_c : float
        Temperature of the syrup as it runs in. [degC]
    glass_c : float
        Temperature of the bottle before. [degC]
    room_c : float
        Around it. [degC]

    Returns
    -------
    HotFill
        Where it starts and how fast its coldest layer cools.

    Valid for 50 to 5000 ml, 20 to 5000 g, 0 to 85 Brix, syrup of 40 to 100, glass and room of 0 to
    100 and 0 to 40 degC; OutOfRange outside.

    >>> hot_filled(500, 320, 62, 88).mixed_c
    Spread(low=79.1, likely=79.6, high=80.4)

    References: heat balance and Newton's law of cooling; coefficients from memory, so wide.
    """
    inside("bottle", bottle_ml, 50.0, 5000.0, "ml")
    inside("glass", glass_g, 20.0, 5000.0, "g")
    inside("filling temperature", fill_c, 40.0, 100.0, "degC")
    inside("glass temperature", glass_c, 0.0, 100.0, "degC")
    inside("room temperature", room_c, 0.0, 40.0, "degC")
    grams = bottle_ml * hot_density(brix, fill_c).likely
    cp = cp_syrup(brix, fill_c)

    def met(glass_cp: float) -> float:
        parts = [Part(grams, cp, fill_c), Part(glass_g, glass_cp, glass_c)]
        return mixing_temperature(parts)

    ends = sorted(met(glass_cp) for glass_cp in (GLASS_CP.low, GLASS_CP.likely, GLASS_CP.high))
    heat = grams * cp + glass_g * GLASS_CP.likely
    area_m2 = _area_m2(bottle_ml)
    constants = [heat / (out * area_m2) for out in (TO_ROOM.high, TO_ROOM.likely, TO_ROOM.low)]
    walls = [
        out / (out + within)
        for out, within in (
            (TO_ROOM.low, TO_GLASS.high),
            (TO_ROOM.likely, TO_GLASS.likely),
            (TO_ROOM.high, TO_GLASS.low),
        )
    ]
    return HotFill(Spread(*ends), room_c, Spread(*constants), Spread(*walls))


def _area_m2(bottle_ml: float) -> float:
    """Outside of a cylinder that holds so much and is `SLENDER` times as high as wide."""
    width_cm = float((bottle_ml / (SLENDER * pi / 4)) ** (1 / 3))
    return (SLENDER + 0.5) * pi * width_cm**2 / 10_000
