"""The thermometer's readings of a batch as a picture: a small SVG, drawn by hand.

One line, one target and one band need no plotting library; the picture is text and opens in any
browser.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from xml.sax.saxutils import escape

from assistant.base.errors import WrongUse
from assistant.cook import Batch
from assistant.cook.batch import Taken
from assistant.cook.holding import best_run, blind_after_s, held
from assistant.cook.kinds import Heat, Hold

WIDTH, HEIGHT = 800, 440
LEFT, RIGHT, TOP, BOTTOM = 70, 24, 64, 64
_MINUTES = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 2880, 10080)
_MOST_TICKS = 9
_NEAR_C = 8.0
_INK, _FAINT, _LINE, _TARGET, _BAND = "#222222", "#dddddd", "#1f5fa8", "#b3261e", "#f6d78b"


@dataclass(frozen=True)
class Frame:
    """Where minutes and degrees stand on the picture."""

    minutes: float
    low_c: float
    high_c: float

    def x(self, minutes: float) -> float:
        """Place of a time. [px]"""
        return LEFT + (WIDTH - LEFT - RIGHT) * minutes / self.minutes

    def y(self, temp_c: float) -> float:
        """Place of a temperature. [px]"""
        share = (temp_c - self.low_c) / (self.high_c - self.low_c)
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * share


def curve_svg(batch: Batch) -> str:
    """The temperature curve of a batch as SVG: readings, target, and the hold that counts shaded.

    Stretches without a reading for longer than a hold counts are dotted: nobody knows what the pan
    did there. WrongUse where no thermometer was read.
    """
    temps = [t for t in batch.taken if t.what == "temperature"]
    if not temps:
        raise WrongUse(f"Batch {batch.id} has no thermometer readings to draw.")
    target_c = _target(batch)
    frame = _frame(temps, target_c)
    body = [
        *_head(batch),
        *_band(batch, temps, frame),
        *_grid(frame),
        *_target_line(target_c, temps[-1].base, frame),
        *_course(temps, frame, blind_after_s(batch)),
    ]
    return "\n".join((_OPEN, *body, "</svg>")) + "\n"


_OPEN = (
    f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" '
    f'height="{HEIGHT}" font-family="sans-serif" font-size="14" fill="{_INK}">'
)


def _target(batch: Batch) -> float | None:
    stages = batch.recipe.stages
    holds = [s.target_c for s in stages if isinstance(s, Hold)]
    heats = [s.target_c for s in stages if isinstance(s, Heat)]
    return next(iter((*holds, *heats)), None)


def _frame(temps: Sequence[Taken], target_c: float | None) -> Frame:
    degrees = [t.base for t in temps] + ([] if target_c is None else [target_c])
    low, high = 10 * floor((min(degrees) - 2) / 10), 10 * ceil((max(degrees) + 2) / 10)
    longest = max(_minutes(temps, t) for t in temps)
    step = _step(max(longest, 1.0))
    return Frame(step * ceil(max(longest, 1.0) / step), low, high)


def _minutes(temps: Sequence[Taken], taken: Taken) -> float:
    first = min(t.at for t in temps)
    return (taken.at - first).total_seconds() / 60


def _step(minutes: float) -> int:
    fitting = (s for s in _MINUTES if minutes / s <= _MOST_TICKS)
    return next(fitting, ceil(minutes / _MOST_TICKS))


def _head(batch: Batch) -> Iterator[str]:
    title = escape(f"Batch {batch.id}: {batch.fruit or batch.recipe.title}, temperature in the pan")
    yield f"<title>{title}</title>"
    yield f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>'
    yield f'<text x="{LEFT}" y="24" font-size="17" font-weight="bold">{title}</text>'


def _band(batch: Batch, temps: Sequence[Taken], frame: Frame) -> Iterator[str]:
    """The run that the hold counts, and the seconds of it above the picture."""
    run, done = best_run(batch), held(batch)
    if not run or not done.seconds:
        return
    left, right = (frame.x(_minutes(temps, t)) for t in (run[0], run[-1]))
    wide = max(right - left, 2.0)
    tall = HEIGHT - TOP - BOTTOM
    yield f'<rect x="{left:.1f}" y="{TOP}" width="{wide:.1f}" height="{tall}" fill="{_BAND}"/>'
    whole = "complete" if done.complete else "not complete"
    anchor, at = ("end", left + wide) if left > WIDTH / 2 else ("start", left)
    words = f"hold: {done.seconds:.0f} s counted, {whole}"
    yield f'<text x="{at:.1f}" y="{TOP - 8}" text-anchor="{anchor}">{words}</text>'


def _grid(frame: Frame) -> Iterator[str]:
    base, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    for degrees in range(round(frame.low_c), round(frame.high_c) + 1, _degree_step(frame)):
        y = frame.y(degrees)
        yield _rule(LEFT, y, right, y, _FAINT)
        yield f'<text x="{LEFT - 8}" y="{y + 5:.1f}" text-anchor="end">{degrees}</text>'
    step = _step(frame.minutes)
    for minutes in range(0, round(frame.minutes) + 1, step):
        x = frame.x(minutes)
        yield _rule(x, base, x, base + 6, _INK)
        yield f'<text x="{x:.1f}" y="{base + 22}" text-anchor="middle">{minutes}</text>'
    yield _rule(LEFT, base, right, base, _INK)
    yield _rule(LEFT, TOP, LEFT, base, _INK)
    middle_y = (TOP + base) / 2
    words = "minutes since the first reading"
    yield f'<text x="{LEFT}" y="{HEIGHT - 16}">{words}</text>'
    turn = f'transform="rotate(-90 22 {middle_y:.0f})" text-anchor="middle"'
    yield f'<text x="22" y="{middle_y:.0f}" {turn}>temperature, °C</text>'


def _degree_step(frame: Frame) -> int:
    return 10 if frame.high_c - frame.low_c <= 100 else 20


def _target_line(target_c: float | None, last_c: float, frame: Frame) -> Iterator[str]:
    """The target, named on the right unless the curve ends there."""
    if target_c is None:
        return
    y, right = frame.y(target_c), WIDTH - RIGHT
    yield _rule(LEFT, y, right, y, _TARGET, 'stroke-dasharray="8 5" stroke-width="1.5"')
    words = f"target {target_c:g} °C"
    x, anchor = (LEFT + 6, "start") if abs(last_c - target_c) < _NEAR_C else (right, "end")
    yield f'<text x="{x}" y="{y - 6:.1f}" text-anchor="{anchor}" fill="{_TARGET}">{words}</text>'


def _course(temps: Sequence[Taken], frame: Frame, blind_s: float) -> Iterator[str]:
    """The readings, joined in the order they were said; a clock set back breaks the line."""
    places = [(frame.x(_minutes(temps, t)), frame.y(t.base)) for t in temps]
    gaps_s = [(after.at - before.at).total_seconds() for before, after in pairwise(temps)]
    for gap_s, ((x1, y1), (x2, y2)) in zip(gaps_s, pairwise(places), strict=True):
        dots = ' stroke-dasharray="2 5"' if gap_s > blind_s else ""
        if gap_s >= 0:
            yield _rule(x1, y1, x2, y2, _LINE, f'stroke-width="2"{dots}')
    if max(gaps_s, default=0.0) > blind_s:
        words = f"dotted: no reading for more than {blind_s:.0f} s"
        right = WIDTH - RIGHT
        yield f'<text x="{right}" y="{HEIGHT - 16}" text-anchor="end" fill="{_LINE}">{words}</text>'
    for taken, (x, y) in zip(temps, places, strict=True):
        words = f"{taken.at:%H:%M:%S}, {taken.base:.1f} °C"
        yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{_LINE}">'
        yield f"<title>{words}</title></circle>"


def _rule(x1: float, y1: float, x2: float, y2: float, colour: str, more: str = "") -> str:
    space = " " if more else ""
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" '
        f'stroke="{colour}"{space}{more}/>'
    )
