"""The question of how long a bottle keeps."""

from collections.abc import Callable

from assistant.calc.answer import Answer
from assistant.calc.keep_reasons import Heated, Place
from assistant.calc.keeping import KeepBy, keep_by


def keep(
    *,
    brix: float,
    place: Place = "fridge",
    ph: float | None = None,
    heated: bool = False,
    sugared_after: bool = False,
    opened: bool = False,
    low_acid: bool = False,
    aw: float | None = None,
    tested_canning: bool = False,
    soured: bool = False,
    plain: bool = False,
    acetic: float = 0.0,
    abv: float = 0.0,
) -> Answer:
    """How many days a bottle may be kept, and why.

    brix : sugar; ph : measured, leave out if not; aw : water activity, if known
    place : fridge, cupboard or freezer; opened : whether the bottle has been opened
    heated : whether the heat hold was completed
    sugared_after : whether sugar or water went in after the hold
    low_acid : fruit low in acid; tested_canning : a tested boiling-water process was followed
    soured : low in acid by nature, soured, and read with a checked meter
    plain : nothing of a plant went in; acetic : acetic acid [g/l]; abv : alcohol by volume [%]
    """
    held: Heated = "none" if not heated else "part" if sugared_after else "all"
    kept = keep_by(
        ph,
        brix,
        held,
        place,
        opened,
        low_acid,
        aw,
        tested_canning=tested_canning,
        soured=soured,
        plain=plain,
        acetic=acetic,
        alcohol=abv / 100,
    )
    return Answer(
        answer=kept.refuse or f"{kept.days} days in the {place}{_from_when(opened)}.",
        values={} if kept.days is None else {"keep_days": float(kept.days)},
        working=kept.reason or ("refused before any days were counted",),
        source=f"{kept.rule}: no published table gives keeping time by Brix, pH and preservative. "
        f"What decided leans on {kept.source}",
        valid="0 to 85 Brix; fridge at 4.4 C or colder, freezer at minus 18 C; clean, filled "
        "bottles",
        cautions=_cautions(kept),
    )


def _from_when(opened: bool) -> str:
    return " from opening" if opened else " from making"


def _cautions(kept: KeepBy) -> tuple[str, ...]:
    return (
        f"Throw it away untasted, whatever the date, for: {'; '.join(kept.discard_signs)}.",
        "A bottle that bulges or hisses can burst: cover it with a cloth and keep your face away.",
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {"keep": keep}
