"""Labels and plans for the further pages: a label as a picture, sheets as PDF, a shopping list."""

from datetime import datetime
from html import escape
from importlib.util import find_spec
from itertools import groupby
from typing import TYPE_CHECKING

from assistant.base.errors import WrongUse
from assistant.cook import Batch, fold
from assistant.keep import Journal
from assistant.planning import Wish, plan
from assistant.planning.wish import Kind
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report.planned import plan_lines

if TYPE_CHECKING:
    from assistant.label.code import Modules
    from assistant.label.layout import Laid

KINDS: tuple[Kind, ...] = ("bottles", "litres", "guests", "fruit")
_FACE = "Bitstream Vera Sans, DejaVu Sans, Verdana, sans-serif"


def labels_pdf(
    journal: Journal,
    batch_id: str,
    now: datetime,
    sheet: str = "",
    copies: int | None = None,
    start: int = 1,
    size: float | None = None,
) -> bytes:
    """Labels on sheets, one a bottle where copies are left out, so many of each size else.

    sheet : "" for the usual one; start : the first label to print on, counted from 1
    size : only those for so much, all for None [ml]
    WrongUse or LimitStopped where there is no label, no such sheet or no such place on it.
    """
    # The PDF library takes a moment to load, which the page's start should not wait for.
    from assistant.label.content import label_texts, of_size
    from assistant.label.pdf import draw_all
    from assistant.label.sheet import DEFAULT

    texts = of_size(label_texts(_batch(journal, batch_id), now.date()), size)
    wanted = [(text, count if copies is None else copies) for text, count in texts]
    return draw_all(wanted, sheet or DEFAULT, start).pdf


def label_png(
    journal: Journal, batch_id: str, now: datetime, sheet: str = "", size: float | None = None
) -> bytes:
    """The label for one size as PNG, else as `label_picture`; PicturesMissing where it can't be."""
    from assistant.label.content import label_texts, of_size
    from assistant.label.picture import label_png as drawn
    from assistant.label.sheet import DEFAULT

    text, _ = of_size(label_texts(_batch(journal, batch_id), now.date()), size)[0]
    return drawn(text, sheet or DEFAULT)


def label_sizes(batch: Batch) -> list[dict[str, object]]:
    """What the labels of a batch are for: the size and how many. [ml]"""
    from assistant.label.content import HAND_WRITTEN, volumes

    found = volumes(batch).items()
    return [
        {
            "size": "" if volume == HAND_WRITTEN else volume.split()[0],
            "words": f"{count} × {volume}",
            "count": count,
        }
        for volume, count in found
    ]


def label_picture(
    journal: Journal, batch_id: str, now: datetime, sheet: str = "", size: float | None = None
) -> str:
    """The label of a batch as SVG, as it will be printed; two, where it takes a front and a back.

    size : for a bottle of so much, the first sort for None [ml]
    WrongUse or LimitStopped as for the PDF.
    """
    from assistant.label.code import modules
    from assistant.label.content import label_texts, of_size
    from assistant.label.layout import lay_out
    from assistant.label.sheet import DEFAULT, sheet_named

    text, _ = of_size(label_texts(_batch(journal, batch_id), now.date()), size)[0]
    found, code = sheet_named(sheet or DEFAULT), modules(text.code)
    room = found.room
    laid = lay_out(text, room.width, room.height, len(code))
    width, height = found.width, len(laid) * found.height
    drawn = (
        f'<g transform="translate({room.x} {n * found.height + room.y})">'
        f"{_drawn(each, code, room.width)}</g>"
        f'<rect x="0.2" y="{n * found.height + 0.2}" width="{width - 0.4}" '
        f'height="{found.height - 0.4}" rx="2" fill="none" stroke="#777" stroke-width="0.3"/>'
        for n, each in enumerate(laid)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{4 * width}" height="{4 * height}" font-family="{_FACE}">'
        f'<rect width="{width}" height="{height}" fill="#fff"/>{"".join(drawn)}</svg>'
    )


def _drawn(laid: "Laid", code: "Modules", width: float) -> str:
    from assistant.label.fonts import MM_PER_PT, width_mm

    words = (
        f'<text x="{p.x:.2f}" y="{p.y:.2f}" font-size="{p.size_pt * MM_PER_PT:.3f}" '
        f'font-weight="{"bold" if p.bold else "normal"}" lengthAdjust="spacingAndGlyphs" '
        f'textLength="{width_mm(p.text, p.bold, p.size_pt):.2f}">{escape(p.text)}</text>'
        for p in laid.pieces
    )
    rule = f'<path d="M0 {laid.rule_y:.2f} H{width:.2f}" stroke="#000" stroke-width="0.25"/>'
    return "".join(words) + rule + f'<path d="{_squares(laid, code)}"/>'


def _squares(laid: "Laid", code: "Modules") -> str:
    """The dark modules, a run of them at a time."""
    side, found = laid.module_mm, []
    for y, row in enumerate(code):
        x = 0
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                left, top = laid.code_x + x * side, laid.code_y + y * side
                found.append(
                    f"M{left:.3f} {top:.3f}h{length * side:.3f}v{side}h-{length * side:.3f}z"
                )
            x += length
    return "".join(found)


def pictures() -> bool:
    """Whether labels can be had as PNG here."""
    return find_spec("pypdfium2") is not None


def sheets() -> list[dict[str, str]]:
    """The sheets that can be chosen, each with its measures."""
    from assistant.label.sheet import SHEETS

    return [
        {"name": name, "words": f"{name}: {s.count} of {s.width:g} × {s.height:g} mm"}
        for name, s in SHEETS.items()
    ]


def plan_page(
    recipe: str, kind: str, amount: float, now: datetime, bottle_ml: float = 500.0, fruit: str = ""
) -> dict[str, object]:
    """A shopping list for so many bottles, litres, guests or kilos of fruit.

    WrongUse or OutOfRange where no small kitchen can mean that.
    """
    if recipe not in recipe_names():
        raise WrongUse("There is no recipe of that name.")
    wanted = next((each for each in KINDS if each == kind), None)
    if wanted is None:
        raise WrongUse("Say bottles, litres, guests or fruit.")
    found = plan(load_recipe(recipe), Wish(wanted, amount, bottle_ml), fruit or None)
    return {"now": now.isoformat(), "lines": plan_lines(found)}


def _batch(journal: Journal, batch_id: str) -> Batch:
    events = journal.events(batch_id)
    if not events:
        raise WrongUse("There is no such batch.")
    return fold(events)[0]
