"""Times at a temperature against the published pairs."""

from assistant.calc.answer import Check
from assistant.calc.hold import FDA_JUICE, MAZZOTTA_JUICE, pu, required_seconds

_PU = "minutes times 10^((T - 60) / 7), Del Vecchio, Dayharsh & Baselt, Proc. ASBC (1951) 45-50"
_PU_OTHER = (
    "minutes times 1.393^(T - 60), the other common form, 3 % lower at 72 C; ours as a share of it"
)


def _units(temp_c: float) -> float:
    return pu([(0.0, temp_c), (60.0, temp_c)])


CHECKS: tuple[Check, ...] = (
    Check(
        "time for juice at a temperature",
        FDA_JUICE.source,
        "s",
        lambda temp_c: required_seconds(temp_c, FDA_JUICE),
        (((71.11,), 6.0), ((73.89,), 2.8), ((76.67,), 1.3), ((79.44,), 0.6), ((82.22,), 0.3)),
        0.05,
        "same source",
    ),
    Check(
        "time for juice at a temperature",
        MAZZOTTA_JUICE.source,
        "s",
        lambda temp_c: required_seconds(temp_c, MAZZOTTA_JUICE),
        (((71.1,), 3.0),),
        0.001,
        "same source",
    ),
    Check(
        "pasteurisation units of one minute",
        _PU,
        "PU",
        _units,
        (((60,), 1.0), ((67,), 10.0), ((74,), 100.0)),
        0.001,
        "arithmetic",
    ),
    Check(
        "pasteurisation units of one minute",
        _PU_OTHER,
        "%",
        lambda temp_c: 100 * _units(temp_c) / 1.393 ** (temp_c - 60),
        (((60,), 100.0), ((64,), 100.0), ((68,), 100.0), ((72,), 100.0)),
        4.0,
        "other form",
    ),
)
