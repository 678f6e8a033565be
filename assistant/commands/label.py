"""`panside label`: labels for the bottles of a batch, as a PDF to print or a picture to look at."""

import re
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, Store, batch_events, emit, listed, open_journal
from assistant.cook import fold
from assistant.label.sheet import DEFAULT, SHEETS

if TYPE_CHECKING:
    from assistant.label.content import LabelText


def label(
    id: Annotated[
        str, typer.Argument(help="The batch, as `panside batches` or a label's code names it.")
    ],
    out: Annotated[
        Path | None,
        typer.Option("--out", help="PDF or .png to write.", show_default="label-ID.pdf"),
    ] = None,
    sheet: Annotated[
        str, typer.Option("--sheet", help=f"Sheet of labels: {', '.join(SHEETS)}.")
    ] = DEFAULT,
    size: Annotated[
        float | None,
        typer.Option(
            "--size", metavar="ML", help="Only for what holds so much.", show_default="all"
        ),
    ] = None,
    copies: Annotated[
        int | None,
        typer.Option("--copies", help="How many of each size.", show_default="one a bottle"),
    ] = None,
    start: Annotated[
        int, typer.Option("--start", help="First label to print on, for a sheet begun before.")
    ] = 1,
    preview: Annotated[
        bool, typer.Option("--preview", help="One label of each size as .png, to look at.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make labels for a bottled batch. A batch that a limit holds gets none."""
    # The PDF library takes a moment to load, which no other command should wait for.
    from assistant.label.content import label_texts, of_size

    batch, _ = fold(batch_events(open_journal(store), id))
    texts = of_size(label_texts(batch, WallClock().now().date()), size)
    wanted = [(text, count if copies is None else copies) for text, count in texts]
    stem = f"label-{re.sub(r'[^A-Za-z0-9.-]', '_', batch.id)}"
    if preview:
        _looked_at(wanted, sheet, out or Path(f"{stem}.png"), json)
        return
    _printed(batch.id, wanted, sheet, start, out or Path(f"{stem}.pdf"), json)


def _printed(
    batch_id: str,
    wanted: "Sequence[tuple[LabelText, int]]",
    sheet: str,
    start: int,
    target: Path,
    json: bool,
) -> None:
    """The sheets, as a PDF or as pictures of its pages."""
    from assistant.label.pdf import draw_all
    from assistant.label.picture import pages_png

    labels = draw_all(wanted, sheet, start)
    if target.suffix.lower() == ".png":
        files = _numbered(target, pages_png(labels.pdf))
    else:
        files = _numbered(target, (labels.pdf,))
    if json:
        sizes = [{"volume": text.volume, "copies": count} for text, count in wanted]
        facts = {"sheet": sheet, "copies": sum(n for _, n in wanted), "pages": labels.pages}
        facts |= {"labels_a_bottle": len(labels.laid), "sizes": sizes, "files": files}
        emit({"batch": batch_id, "file": files[0], **facts, "label": asdict(wanted[0][0])})
        return
    pages = f"{labels.pages} page{'' if labels.pages == 1 else 's'}"
    pair = ", a front and a back each" if len(labels.laid) == 2 else ""
    several = len(wanted) > 1
    each = [f"{n} × {text.volume}" if several else f"{n} ×" for text, n in wanted]
    told = listed(each, "and") if several else each[0]
    name = f": {wanted[0][0].name}" if several else f" {wanted[0][0].name}"
    typer.echo(f"{told}{name}{pair}: {pages} of {sheet} in {', '.join(files)}.")
    typer.echo("Print at full size (100 per cent), and try it on plain paper first.")


def _looked_at(
    wanted: "Sequence[tuple[LabelText, int]]", sheet: str, target: Path, json: bool
) -> None:
    """One label of each size as a picture."""
    from assistant.label.picture import label_png

    files = _numbered(target, tuple(label_png(text, sheet) for text, _ in wanted))
    for (text, _), file in zip(wanted, files, strict=True):
        if json:
            emit({"volume": text.volume, "sheet": sheet, "file": file})
        else:
            typer.echo(f"{text.name}, {text.volume}, on {sheet}: {file}.")


def _numbered(target: Path, contents: tuple[bytes, ...]) -> list[str]:
    """The files written: the name itself, then with -2, -3 ... behind it."""
    names = [target, *(target.with_stem(f"{target.stem}-{n}") for n in range(2, len(contents) + 1))]
    for name, content in zip(names, contents, strict=False):
        _write(name, content)
    return [str(name) for name in names[: len(contents)]]


def _write(target: Path, content: bytes) -> None:
    try:
        target.write_bytes(content)
    except OSError as error:
        raise WrongUse(f"{target}: can't be written ({error.strerror}).") from error
