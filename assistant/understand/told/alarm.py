"""What a sign of spoilage was, while that is asked: a false alarm, or no doubt about it."""

import re

from assistant.understand.told.part import Part
from assistant.understand.told.talk import Talk

_FALSE = re.compile(
    r"\b(false alarm|nothing|my mistake|i was wrong|harmless"
    r"|(only|just|was|is) (some |a bit of |the )?(foam|froth|steam|pulp|bubbles|sugar|light|glare"
    r"|stirring|boiling|simmering|seeds?|a seed|skins?|zest)"
    r"|(is|was|it|there is) (not|no) (mould\w*|mold\w*|ferment\w*|fizz\w*|spoilt)"
    r"|no (mould|mold|fizz|fermentation)|smells (fine|good|ok|okay|alright))\b"
)
_TRUE = re.compile(
    r"\b(really|definitely|certainly|for sure|it is (mould|mold|fermenting|spoilt|off|bad)|spoilt"
    r"|gone off|furry|smells of (beer|wine|yeast))\b"
)


def alarm_parts(talk: Talk) -> list[Part]:
    """Yes or no to "is it mould?", where the words leave no doubt."""
    if talk.asked.about != "sign" or not talk.asked.yes_no:
        return []
    if talk.having("question", "condition"):
        return []
    false, true = bool(_FALSE.search(talk.text)), bool(_TRUE.search(talk.text))
    if false == true:
        return []
    return [Part(("no",) if false else ("yes",), what="alarm")]
