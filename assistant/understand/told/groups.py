"""Which groups of words in `done.toml` tell of a stage, by the recipe's own sentence for it."""

from functools import lru_cache

from assistant.facts.asked import Asked
from assistant.facts.stuff import stuff_of
from assistant.understand.told.clauses import clauses
from assistant.understand.told.found import strangers
from assistant.understand.told.lexicon import any_of, listed, pattern, table
from assistant.understand.told.spans import quantities, things

FILE = "done.toml"
MOST_STRANGE = 2
"""Words nobody knows, from which it is talk for somebody else (common practice, no source)."""


def groups_of(asked: Asked) -> tuple[str, ...]:
    """The groups that tell of the stage which is asked for."""
    return _groups(f"{asked.says.casefold()} {asked.stage}")


@lru_cache(maxsize=256)
def _groups(about: str) -> tuple[str, ...]:
    named = (name for name, row in table(FILE).items() if "when" in row)
    return tuple(name for name in named if any_of(listed(FILE, name, "when")).search(about))


def tells_of(name: str, text: str) -> bool:
    """Whether plain words tell of a group, as done or as going on.

    >>> tells_of("strain", "it dripped through the muslin"), tells_of("strain", "it is all in")
    (True, False)
    """
    return any(pattern(FILE, name, form).search(text) for form in ("by", "doing"))


def told_of(text: str, there: Asked, here: Asked) -> bool:
    """Whether a text can tell of a stage to come, rather than of the one that is asked for now.

    A number can; words without one must name what the other stage alone is about.
    """
    found = clauses(text)
    if sum(strangers(c, quantities(c.words), things(c.words)) for c in found) > MOST_STRANGE:
        return False
    if any(quantities(clause.words) for clause in found):
        return True
    if there.kind == "add":
        named = {thing.what for clause in found for thing in things(clause.words)}
        if stuff_of(there.about) in named - {stuff_of(here.about)}:
            return True
    own = set(groups_of(there)) - set(groups_of(here)) - _ANYWHERE
    return any(tells_of(name, clause.text) for name in own for clause in found)


def is_off_heat(text: str) -> bool:
    """Whether a text tells that a pan has come off the heat.

    >>> is_off_heat("Lid's on, it's off the heat")
    True
    """
    return any(pattern(FILE, "off_heat", "by").search(clause.text) for clause in clauses(text))


_ANYWHERE = frozenset(("put", "stir"))
"""What goes in is told by its name, not by the putting in."""
