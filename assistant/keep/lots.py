"""Which batches a lot means: as it is printed on a label, or as much of it as a cook types."""

from sqlalchemy import Connection, select

from assistant.keep import schema

_LAST = "\U0010ffff"


def batches_of(connection: Connection, lot: str) -> list[str]:
    """The batches that go by a lot, the first of these that finds any.

    - those whose labels carry it: the batch of that name, then those that were once called so
    - those whose names start with it, up to a hyphen: `2026-07-04-1` for `2026-07-04-1-k7m4p`
    - those whose names end with it, from a hyphen on: `k7m4p`
    """
    said = lot.strip()
    for wanted in dict.fromkeys((said, said.lower())):
        if wanted and (found := printed(connection, wanted) or _shortened(connection, wanted)):
            return found
    return []


def printed(connection: Connection, lot: str) -> list[str]:
    """The batches whose labels may carry just that lot, the one of that name first."""
    batch, alias = schema.batches.c, schema.aliases.c
    own = connection.scalars(select(batch.id).where(batch.id == lot)).all()
    once = select(alias.batch).where(alias.lot == lot).order_by(alias.batch)
    return list(dict.fromkeys((*own, *connection.scalars(once))))


def _shortened(connection: Connection, lot: str) -> list[str]:
    name = schema.batches.c.id
    starting = select(name).where(name.startswith(f"{lot}-", autoescape=True))
    if connection.dialect.name == "sqlite":
        # It finds no LIKE by its index.
        starting = starting.where(name >= f"{lot}-", name <= f"{lot}-{_LAST}")
    ending = select(name).where(name.endswith(f"-{lot}", autoescape=True))
    for wanted in (starting, ending):
        found = connection.scalars(wanted.order_by(name)).all()
        if found:
            return list(found)
    return []
