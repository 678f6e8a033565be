"""What a matched rule means: one small method per rule name.

The grammars hold the words, this module holds what they come to. Rules without a method hand their
parts on. A method that returns None says: these words make no sense together (three pounds twenty
ounces), and the reading is dropped.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any, get_args

from assistant.base.units import Unit
from assistant.facts.events import Topic, What
from assistant.understand.meaning_of_bottles import BottleMeanings
from assistant.understand.meant import Amended, Amount, Pick, Plain, Short, Thing, plain

_SECONDS = {"s": 1, "min": 60, "h": 3600}
_TOPICS = {f"ask_{topic}": topic for topic in get_args(Topic)} | {"ask_put_in": "how_much"}
"""What the rules that only ask are about, by their names."""


_MANNERS = {
    "be_quiet": "quiet", "speak_again": "speak", "slower": "slower", "faster": "faster",
    "louder": "louder", "softer": "softer",
}  # fmt: skip


def _join(figures: tuple[Fraction, ...]) -> str:
    return "".join(str(int(figure)) for figure in figures)


def _ask_about(topic: str, amount: Amount, to: Unit | None = None) -> Plain | None:
    """A question about an amount; one without its unit, or without its point, can't be meant."""
    unit = amount.unit or ("degC" if amount.what == "temperature" else None)
    if unit is None or amount.short:
        return None
    fields = {"value": float(amount.value), "unit": unit, "to": to}
    return plain("ask", topic=topic, about=amount.fruit or amount.what, **fields)


class Meanings(BottleMeanings):
    """The methods. `build` is what the matcher calls."""

    def build(self, rule: str, parts: tuple[Any, ...]) -> tuple[Any, ...] | None:
        """The values of a rule from those of its parts; None when they make no sense."""
        if rule in _TOPICS:
            return (plain("ask", topic=_TOPICS[rule], about=parts[0] if parts else None),)
        if rule in _MANNERS:
            return (plain("manner", how=_MANNERS[rule]),)
        method: Callable[..., Any] | None = getattr(self, rule, None)
        if method is None:
            return parts
        made = method(*parts)
        return None if made is None else (made,)

    # numbers.jsgf

    def two_figures(self, *figures: Fraction) -> Fraction:
        return sum(figures, Fraction())

    def hundreds(self, count: Fraction, each: Fraction, rest: Fraction = Fraction()) -> Fraction:
        return count * each + rest

    thousands = hundreds

    def clipped(self, head: Fraction, *tail: Fraction) -> Fraction:
        return head * 100 + sum(tail)

    def decimals(self, *figures: Fraction) -> Fraction:
        text = _join(figures)
        return Fraction(int(text), 10 ** len(text))

    def point(self, *parts: Fraction | str) -> Fraction:
        return sum((part for part in parts if isinstance(part, Fraction)), Fraction())

    def spelled_point(self, first: Fraction, *rest: Fraction) -> Fraction | None:
        """ "Seven zero" is seventy spelled out, never 7.0."""
        return first + self.decimals(*rest) if any(rest) else None

    def clipped_point(self, head: Fraction, tail: Fraction) -> Fraction:
        return head + tail / 100

    def spelled(self, *figures: Fraction) -> Fraction:
        return Fraction(_join(figures))

    def mixed(self, whole: Fraction, part: Fraction) -> Fraction:
        return whole + part

    def below_nothing(self, _: str, number: Fraction) -> Fraction:
        return -number

    def below_zero(self, number: Fraction, _: str) -> Fraction:
        return -number

    def short_point(self, number: Fraction) -> Short:
        return Short(number)

    def bare_number(self, number: Fraction | Short) -> Amount:
        return Amount(number.value, short=True) if isinstance(number, Short) else Amount(number)

    # quantities.jsgf

    def counted(self, number: Fraction, unit: Unit) -> Amount:
        return Amount(number, unit)

    counted_point = one_unit = part = counted

    def and_a_part(self, whole: Fraction, unit: Unit, part: Fraction) -> Amount:
        return Amount(whole + part, unit)

    def pounds_and_ounces(
        self, pounds: Fraction, unit: Unit, ounces: Fraction, _: Unit = "oz"
    ) -> Amount | None:
        return Amount(pounds + ounces / 16, unit) if 0 < ounces < 16 else None

    def kilos_and_grams(
        self, kilos: Fraction, unit: Unit, grams: Fraction, _: Unit = "g"
    ) -> Amount | None:
        return Amount(kilos + grams / 1000, unit) if 0 < grams < 1000 else None

    litres_and_millilitres = kilos_and_grams

    def other_thing(self, what: What) -> Thing:
        return Thing(what)

    def thing(self, named: Thing | str) -> Thing:
        return named if isinstance(named, Thing) else Thing("fruit", named)

    def amount_of_thing(self, amount: Amount, thing: Thing) -> Amount:
        return amount.of(thing)

    def thing_amount(self, thing: Thing, amount: Amount) -> Amount:
        return amount.of(thing)

    thing_dose = thing_amount

    def pieces(self, number: Fraction) -> Amount:
        return Amount(number, "count", what="ingredient")

    thing_number = thing_amount

    def grams_a_litre(self, number: Fraction) -> Amount:
        return Amount(number, "g/l")

    def milligrams_a_litre(self, number: Fraction) -> Amount:
        return Amount(number / 1000, "g/l")

    def grams_a_kilo(self, number: Fraction) -> Amount:
        return Amount(number, "g/kg")

    def parts_per_million(self, number: Fraction) -> Amount:
        return Amount(number, "ppm")

    def per_cent(self, number: Fraction) -> Amount:
        return Amount(number, "%")

    def dose(self, amount: Amount, thing: Thing | None = None) -> Amount:
        return amount.of(thing) if thing else amount

    # temperatures.jsgf, acidity.jsgf

    def so_many_degrees(self, number: Fraction, unit: Unit | None = None) -> Amount:
        return Amount(number, unit, "temperature")

    temperature_is = it_is_at = pan_is_at = so_many_degrees

    def ph_is(self, number: Fraction) -> Amount:
        return Amount(number, "pH", "ph")

    so_much_ph = ph_is

    def brix_is(self, number: Fraction) -> Amount:
        return Amount(number, "Brix", "brix")

    so_many_brix = brix_is

    # steps.jsgf

    def onward(self, named: str | None = None) -> Plain:
        return plain("onward", named=named)

    def begin(self, fruit: str | None = None) -> Plain:
        return plain("begin", fruit=fruit)

    counted_size = half_litre = one_litre = counted

    def discard(self) -> Plain:
        return Plain("discard")

    def note(self, text: str) -> Plain:
        return plain("note", text=text)

    def stop(self) -> Plain:
        return Plain("stop")

    # questions.jsgf

    def given_thing(self, amount: Amount, thing: Thing) -> Amount:
        return amount.of(thing)

    def what_if(self, amount: Amount) -> Plain | None:
        return _ask_about("what_if", replace(amount, fruit=None))

    def convert(self, amount: Amount, to: Unit) -> Plain | None:
        return _ask_about("convert", amount, to)

    def how_many_units(self, to: Unit, amount: Amount) -> Plain | None:
        return _ask_about("convert", amount, to)

    def strong(self, *parts: Fraction | str) -> Plain:
        water = next((float(p) for p in parts if isinstance(p, Fraction)), None)
        return plain("ask", topic="strong", value=water)

    def gone_in(self, matter: str, *_: str) -> Plain:
        return plain("ask", topic="how_much", about=f"{matter}_so_far")

    def deed(self, *parts: str) -> str:
        return "_".join(parts)

    def say_again(self) -> Plain:
        return Plain("say_again")

    # timers.jsgf

    def length(self, number: Fraction, unit: str) -> Fraction:
        return number * _SECONDS[unit]

    one_length = part_length = length_hours = minutes_part = seconds_part = length

    def length_minutes(self, number: Fraction, unit: str = "min") -> Fraction:
        return self.length(number, unit)

    def length_and_a_part(self, whole: Fraction, unit: str, part: Fraction) -> Fraction:
        return self.length(whole + part, unit)

    def long_length(self, first: Fraction, second: Fraction) -> Fraction:
        return first + second

    minutes_seconds = long_length

    def named_first(self, name: str, seconds: Fraction) -> Plain | None:
        return self.timer_set(seconds, name)

    def timer_set(self, seconds: Fraction | Plain, name: str | None = None) -> Plain | None:
        if isinstance(seconds, Plain):
            return seconds
        return plain("timer_set", seconds=float(seconds), name=name) if seconds > 0 else None

    def timer_stop(self, name: str | None = None) -> Plain:
        return plain("timer_stop", name=name)

    # corrections.jsgf

    def instead(self, right: Amount, wrong: Amount) -> Amount | None:
        return None if right == wrong else right

    def rather(self, wrong: Amount, right: Amount) -> Amount | None:
        return self.instead(right, wrong)

    def correct(self, amount: Amount) -> Amended:
        return Amended(amount)

    def undo(self) -> Plain:
        return Plain("undo")

    def back(self, stages: Fraction) -> Plain:
        return plain("undo", stages=int(stages))

    def later(self) -> Plain:
        return Plain("later")

    def repeat(self, stage: str | None = None) -> Plain:
        return plain("repeat", stage=stage)

    def pause(self) -> Plain:
        return Plain("pause")

    def yes(self) -> Plain:
        return Plain("yes")

    def no(self) -> Plain:
        return Plain("no")

    def which(self, number: Fraction) -> Pick:
        return Pick(int(number))

    # choices.jsgf

    def choose_fruit(self, fruit: str) -> Plain:
        return plain("choose", option="fruit", value=fruit)

    def choose_with(self, option: str) -> Plain:
        return plain("choose", option=option, value="yes")

    def ph_meter(self) -> Plain:
        return plain("choose", option="ph_by", value="meter")

    def ph_strips(self) -> Plain:
        return plain("choose", option="ph_by", value="strips")

    def choose_without(self, option: str) -> Plain:
        return plain("choose", option=option, value="no")
