"""Whether what is told as done belongs to another stage than the one the cook stands at."""

from assistant.facts.asked import Asked
from assistant.facts.stuff import STUFF, stuff_of
from assistant.understand.told.groups import groups_of


def done_elsewhere(named: str, asked: Asked) -> bool:
    """ "The water's in" while it asks for sugar or steeps, "strained" while sugar goes in.

    named : key of what went in, "acid" for any, "strained"; what tells no stage from another is
        never elsewhere
    """
    says = asked.says.casefold()
    if named == "strained":
        return asked.kind in ("add", "rest", "do") and "strain" not in groups_of(asked)
    if named != "acid" and not (named in STUFF and STUFF[named].is_put_in):
        return False
    if asked.kind == "add":
        stuff = stuff_of(asked.about)
        return stuff != named and not (named == "acid" and STUFF[stuff].acid)
    return asked.kind in ("rest", "do") and _word(named) not in says


def _word(named: str) -> str:
    return named if named == "acid" else STUFF[named].words
