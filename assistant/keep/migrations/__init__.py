"""How a store of an older layout is brought to this one: one module a step, run by alembic."""
