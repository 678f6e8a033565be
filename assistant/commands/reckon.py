"""`panside reckon SUBJECT`: one calculation, with its working and its source."""

import inspect
import re
from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules
from typing import Annotated, Any

import typer

from assistant import reckon as subjects_package
from assistant.calc.answer import Answer
from assistant.calc.checks import all_checks
from assistant.commands.options import AsJson, emit
from assistant.reckon.guard import guarded

Reckoner = Callable[..., Answer]

app = typer.Typer(
    help="One calculation, with its working and its source.",
    invoke_without_command=True,
    no_args_is_help=False,
    rich_markup_mode=None,
)


@app.callback()
def reckon(
    context: typer.Context,
    checks: Annotated[
        bool,
        typer.Option("--checks", help="Show how far each formula is from its published check."),
    ] = False,
    json: AsJson = False,
) -> None:
    """One calculation, with its working and its source; without a subject, the list of them."""
    if context.invoked_subcommand is not None:
        return
    if checks:
        _show_checks(json)
        return
    for name, function in subjects().items():
        summary = _summary(function)
        emit({"subject": name, "answers": summary}) if json else typer.echo(f"{name:24}{summary}")


def subjects() -> dict[str, Reckoner]:
    """Every subject by its name, guarded, gathered from the modules of `assistant.reckon`."""
    found: dict[str, Reckoner] = {}
    for module in iter_modules(subjects_package.__path__):
        here = import_module(f"{subjects_package.__name__}.{module.name}")
        found |= getattr(here, "SUBJECTS", {})
    return {name: guarded(function) for name, function in sorted(found.items())}


def _show_checks(json: bool) -> None:
    """Each formula's largest difference from its published check, measured now."""
    if not json:
        typer.echo("\n".join(check_table()))
        return
    for check in all_checks():
        emit(
            {
                "formula": check.formula,
                "source": check.source,
                "kind": check.kind,
                "rows": len(check.rows),
                "largest_difference": check.largest_difference(),
                "tolerance": check.tolerance,
                "unit": check.unit,
            }
        )


def check_table() -> list[str]:
    """The checks as a Markdown table, each difference measured now."""
    return [
        "| formula | published check | kind | rows | largest difference | allowed |",
        "|---|---|---|---|---|---|",
        *(
            f"| {c.formula} | {c.source} | {c.kind} | {len(c.rows)} "
            f"| {_measured(c.largest_difference(), c.unit)} | {_measured(c.tolerance, c.unit)} |"
            for c in all_checks()
        ),
    ]


def _measured(value: float, unit: str) -> str:
    """A difference to two figures; what only rounding in the machine makes is told as none."""
    number = f"{value:.2g}" if value >= 1e-9 else "none"
    return number if unit == "-" or number == "none" else f"{number} {unit}"


def show(answer: Answer) -> list[str]:
    """An answer as lines to read: result, working, source, range, cautions."""
    return [
        answer.answer,
        *(f"  {line}" for line in answer.working),
        f"Source: {answer.source}.",
        f"Holds for: {answer.valid}.",
        *(f"Caution: {line}" for line in answer.cautions),
    ]


def _command(name: str, function: Reckoner) -> None:
    """Expose a subject: its parameters become options, described by its own docstring."""
    signature = inspect.signature(function)
    told = _descriptions(function)
    parameters = [_option(p, told.get(p.name, "")) for p in signature.parameters.values()]
    as_json = inspect.Parameter(
        "json", inspect.Parameter.KEYWORD_ONLY, default=False, annotation=AsJson
    )

    def run(json: bool = False, **given: Any) -> None:
        answer = function(**given)
        if json:
            emit({"subject": name, **vars(answer)})
        else:
            typer.echo("\n".join(show(answer)))

    run.__signature__ = signature.replace(  # type: ignore[attr-defined]
        parameters=[*parameters, as_json], return_annotation=None
    )
    run.__annotations__ = {p.name: p.annotation for p in (*parameters, as_json)}
    run.__doc__ = _summary(function)
    app.command(name)(run)


def _option(parameter: inspect.Parameter, told: str) -> inspect.Parameter:
    kind: Any = Annotated[parameter.annotation, typer.Option(help=told or None)]
    return parameter.replace(annotation=kind)


def _summary(function: Reckoner) -> str:
    return (inspect.getdoc(function) or "").split("\n", 1)[0]


def _descriptions(function: Reckoner) -> dict[str, str]:
    """What the docstring says of each parameter: "name, name : words; name : words"."""
    text = (inspect.getdoc(function) or "").partition("\n")[2]
    names = "|".join(map(re.escape, inspect.signature(function).parameters))
    heads = list(re.finditer(rf"(?:^|;\s|\n)\s*((?:{names})(?:,\s*(?:{names}))*) : ", text))
    told: dict[str, str] = {}
    for head, after in zip(heads, [*heads[1:], None], strict=True):
        words = text[head.end() : after.start() if after else len(text)]
        for name in re.split(r",\s*", head[1]):
            told[name] = " ".join(words.split("\n\n")[0].split())
    return told


for _name, _function in subjects().items():
    _command(_name, _function)
