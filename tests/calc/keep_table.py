"""The reasons by which a bottle is dated, for DEVELOPERS.md: python -m tests.calc.keep_table"""

from assistant.calc.keep_reasons import Reason, Strength, reasons, strengths

HEAD = (
    "| reason | of | holds where | days: all, part, none of it held hot | dated | leans on |\n"
    "|---|---|---|---|---|---|"
)


def rows() -> list[str]:
    """One line a reason, then one a strength."""
    return [*map(_reason, reasons()), *map(_strength, strengths())]


def _reason(row: Reason) -> str:
    days = "not at all"
    if row.days is not None:
        days = f"{row.days[0]}" if len(set(row.days)) == 1 else ", ".join(map(str, row.days))
    dated = row.dated if row.days is not None else ""
    return f"| {row.id} | {row.of} | {_where(row)} | {days} | {dated} | {row.source} |"


def _where(row: Reason) -> str:
    named = [
        row.place,
        "low in acid" if row.low_acid else "",
        "soured" if row.soured else "",
        "no pH counts" if row.unmeasured else "",
        f"pH over {_ph(row.ph_over)}" if row.ph_over is not None else "",
        _thin(row.sugar_under) if row.sugar_under else "",
        f"{row.heated[0]} of it held hot" if len(row.heated) == 1 else "",
        "opened" if row.opened else "",
        "no tested canning" if row.untested else "",
        f"unless {' or '.join(row.unless)}" if row.unless else "",
    ]
    return ", ".join(filter(None, named))


def _ph(bound: float | str) -> str:
    return "makers' limit" if bound == "makers" else f"{bound:g}"


def _thin(bounds: dict[str, float]) -> str:
    return f"under {bounds['brix']:g} Brix or water activity over {bounds['aw']:g}"


def _strength(row: Strength) -> str:
    named = [
        f"pH to {_ph(row.ph_to)}" if row.ph_to is not None else "",
        f"acetic acid from {row.acetic_from:g} g/l" if row.acetic_from else "",
        f"alcohol from {100 * row.alcohol_from:g} %" if row.alcohol_from else "",
        f"preservative from {row.preservative_from:g} g/l" if row.preservative_from else "",
        "nothing of a plant" if row.plain else "",
    ]
    where = ", ".join(filter(None, named))
    return f"| {row.id} (strength) | {row.of} | {where} | | | {row.source} |"


if __name__ == "__main__":
    print(HEAD, *rows(), sep="\n")
