"""The kinds of stage: one module each, and the one union that a recipe is read with.

A module holds the kind's schema, what it waits for, the figures its sentences may name and what
"done" does. A kind that forgets one of them can't be made: its methods are abstract.
"""

from typing import Annotated, get_args

from pydantic import Field

from assistant.cook.kinds.add import Add
from assistant.cook.kinds.base import StageBase
from assistant.cook.kinds.bottling import Bottling
from assistant.cook.kinds.cool import Cool
from assistant.cook.kinds.do import Do
from assistant.cook.kinds.heat import Heat
from assistant.cook.kinds.hold import Hold
from assistant.cook.kinds.measure import Measure
from assistant.cook.kinds.option import Option
from assistant.cook.kinds.reduce import Reduce
from assistant.cook.kinds.rest import Rest

AnyStage = Measure | Add | Do | Heat | Hold | Rest | Reduce | Cool | Option | Bottling
Stage = Annotated[AnyStage, Field(discriminator="kind")]
KINDS: tuple[type[StageBase], ...] = get_args(AnyStage)
"""Every kind of stage, from the union itself."""


__all__ = [
    "KINDS",
    "Add",
    "AnyStage",
    "Bottling",
    "Cool",
    "Do",
    "Heat",
    "Hold",
    "Measure",
    "Option",
    "Reduce",
    "Rest",
    "Stage",
    "StageBase",
]
