"""`panside label`: labels for the bottles of a batch, as a PDF to print."""

import re
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import WrongUse
from assistant.commands.options import AsJson, Store, batch_events, emit, open_journal
from assistant.cook import fold
from assistant.label.sheet import DEFAULT, SHEETS


def label(
    id: Annotated[
        str, typer.Argument(help="The batch, as `panside batches` or a label's code names it.")
    ],
    out: Annotated[
        Path | None, typer.Option("--out", help="PDF to write.", show_default="label-ID.pdf")
    ] = None,
    sheet: Annotated[
        str, typer.Option("--sheet", help=f"Sheet of labels: {', '.join(SHEETS)}.")
    ] = DEFAULT,
    copies: Annotated[
        int | None, typer.Option("--copies", help="How many.", show_default="one a bottle")
    ] = None,
    start: Annotated[
        int, typer.Option("--start", help="First label to print on, for a sheet begun before.")
    ] = 1,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make labels for a bottled batch. A batch that a limit holds gets none."""
    # The PDF library takes a moment to load, which no other command should wait for.
    from assistant.label.content import label_text
    from assistant.label.pdf import draw_labels

    batch, _ = fold(batch_events(open_journal(store), id))
    name = batch.id
    text = label_text(batch, WallClock().now().date())
    wanted = copies if copies is not None else batch.bottled.count if batch.bottled else 1
    labels = draw_labels(text, sheet, wanted, start)
    target = out or Path(f"label-{re.sub(r'[^A-Za-z0-9.-]', '_', name)}.pdf")
    _write(target, labels.pdf)
    if json:
        facts = {"sheet": sheet, "copies": wanted, "pages": labels.pages}
        facts["labels_a_bottle"] = len(labels.laid)
        emit({"batch": name, "file": str(target), **facts, "label": asdict(text)})
        return
    pages = f"{labels.pages} page{'' if labels.pages == 1 else 's'}"
    pair = ", a front and a back each" if len(labels.laid) == 2 else ""
    typer.echo(f"{wanted} × {text.name}{pair}: {pages} of {sheet} in {target}.")
    typer.echo("Print at full size (100 per cent), and try it on plain paper first.")


def _write(target: Path, pdf: bytes) -> None:
    try:
        target.write_bytes(pdf)
    except OSError as error:
        raise WrongUse(f"{target}: can't be written ({error.strerror}).") from error
