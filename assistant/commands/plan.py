"""`panside plan`: from what is wanted back to what to buy."""

from typing import Annotated

import typer

from assistant.base.errors import WrongUse
from assistant.calc.cost import Hob
from assistant.commands.options import AsJson, emit
from assistant.planning import Wish
from assistant.planning import plan as planned
from assistant.planning.wish import Kind
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report.planned import plan_lines, plan_record


def plan(
    recipe: Annotated[str | None, typer.Option("--recipe", help="A name, or a .toml file.")] = None,
    bottles: Annotated[
        list[int] | None,
        typer.Option("--bottles", help="So many bottles; again with --size for another size."),
    ] = None,
    litres: Annotated[float | None, typer.Option("--litres", help="So much syrup [l].")] = None,
    guests: Annotated[int | None, typer.Option("--guests", help="For so many guests.")] = None,
    fruit_kg: Annotated[
        float | None, typer.Option("--fruit-kg", help="Fruit to use up [kg].")
    ] = None,
    size: Annotated[
        list[float] | None,
        typer.Option("--size", help="A bottle holds [ml].", show_default="500"),
    ] = None,
    glasses: Annotated[float, typer.Option("--glasses", help="Glasses for each guest.")] = 2.0,
    glass_ml: Annotated[float, typer.Option("--glass-ml", help="A glass holds [ml].")] = 200.0,
    drink_brix: Annotated[
        float, typer.Option("--drink-brix", help="Sweetness of the drink [Brix].")
    ] = 10.0,
    fruit: Annotated[str | None, typer.Option("--fruit", help="Which fruit.")] = None,
    power_w: Annotated[float, typer.Option("--power-w", help="Power of the ring [W].")] = 1500.0,
    hob: Annotated[str, typer.Option("--hob", help="gas, electric or induction.")] = "electric",
    json: AsJson = False,
) -> None:
    """Work back from bottles, litres, guests or fruit to a shopping list, a pan and a time."""
    sizes = _sizes(bottles or [], size or [])
    kind, amount = _one_wish(sizes[0][0] if bottles else None, litres, guests, fruit_kg)
    others = tuple(sizes[1:])
    wish = Wish(kind, amount, sizes[0][1], glasses, glass_ml, drink_brix, others)
    found = planned(load_recipe(_recipe(recipe)), wish, _key(fruit), power_w, _hob(hob))
    if json:
        emit(plan_record(found))
        return
    for line in plan_lines(found):
        typer.echo(line)


def _sizes(bottles: list[int], size: list[float]) -> list[tuple[int, float]]:
    """Each count with its size; one size alone is that of the only count. [ml]"""
    if len(bottles) < 2 and len(size) < 2:
        return [(bottles[0] if bottles else 0, size[0] if size else 500.0)]
    if len(bottles) != len(size):
        raise WrongUse(
            "Give each count its size: --bottles 7 --size 500 --bottles 4 --size 250, for example."
        )
    return list(zip(bottles, size, strict=True))


def _one_wish(
    bottles: int | None, litres: float | None, guests: int | None, fruit_kg: float | None
) -> tuple[Kind, float]:
    wishes: dict[Kind, float | None] = {
        "bottles": bottles,
        "litres": litres,
        "guests": guests,
        "fruit": fruit_kg,
    }
    named = [(kind, amount) for kind, amount in wishes.items() if amount is not None]
    if len(named) != 1:
        raise WrongUse(
            "Say one thing that you want: --bottles 12, --litres 4, --guests 30 or --fruit-kg 2.3."
        )
    return named[0]


def _recipe(name: str | None) -> str:
    names = recipe_names()
    if name is None and len(names) != 1:
        raise WrongUse(f"Which recipe? Name one with --recipe: {', '.join(names)}.")
    return name or names[0]


def _key(fruit: str | None) -> str | None:
    """A fruit's name as the table writes it."""
    return None if fruit is None else "-".join(fruit.lower().split())


def _hob(name: str) -> Hob:
    match name:
        case "gas" | "electric" | "induction":
            return name
        case _:
            raise WrongUse(f"There is no hob {name!r}: say gas, electric or induction.")
