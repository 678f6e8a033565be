"""Times at a temperature against the published pairs."""

from assistant.calc.answer import Check
from assistant.calc.hold import FDA_JUICE, MAZZOTTA_JUICE, pu, required_seconds

_PU = "PU = minutes times 1.393^(T - 60), the other common form after Del Vecchio et al. (1951)"

CHECKS: tuple[Check, ...] = (
    Check(
        "time for juice at a temperature",
        FDA_JUICE.source,
        "s",
        lambda temp_c: required_seconds(temp_c, FDA_JUICE),
        (((71.11,), 6.0), ((73.89,), 2.8), ((76.67,), 1.3), ((79.44,), 0.6), ((82.22,), 0.3)),
        0.05,
    ),
    Check(
        "time for juice at a temperature",
        MAZZOTTA_JUICE.source,
        "s",
        lambda temp_c: required_seconds(temp_c, MAZZOTTA_JUICE),
        (((71.1,), 3.0),),
        0.001,
    ),
    Check(
        "pasteurisation units of one minute",
        _PU,
        "PU",
        lambda temp_c: pu([(0.0, temp_c), (60.0, temp_c)]),
        (((60,), 1.0), ((64,), 3.765), ((68,), 14.18)),
        0.3,
    ),
)
