"""The plan as it is told: the sugar to come and the syrup to expect."""

from assistant.cook.amounts import quantity
from assistant.cook.batch import Batch
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import juice, main_sugar, syrup


def plan_lines(batch: Batch) -> tuple[Line, ...]:
    """After the fruit or the juice: the sugar to come and the syrup to expect."""
    stock, sugar, out = juice(batch), main_sugar(batch), syrup(batch)
    if stock is None or sugar is None or out is None:
        return ()
    if not batch.recipe.targets.brix:
        of_it: dict[str, Fact] = {"syrup": quantity(out.volume_ml, "ml")}
        return (Line(id="expect_solution", rank="detail", facts=of_it),)
    expect = Line(
        id="expect_syrup",
        rank="detail",
        facts={"syrup": quantity(out.volume_ml, "ml"), "brix": quantity(out.brix, "Brix")},
    )
    juice_brix = Line(id="juice_brix", rank="detail", facts={"brix": quantity(stock.brix, "Brix")})
    if stock.measured:
        return (juice_brix, expect)
    if not round(sugar.likely):
        return (expect,)
    to_come = Quantity(value=sugar.likely, unit="g")
    return (Line(id="sugar_to_come", rank="answer", facts={"sugar": to_come}), expect)
