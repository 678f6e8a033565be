"""Every formula held against its published table: a module per subject, with its `CHECKS`."""

from importlib import import_module
from pkgutil import iter_modules

from assistant.calc.answer import Check


def all_checks() -> tuple[Check, ...]:
    """The checks of every module here, in the order of their names.

    >>> len(all_checks()) > 0
    True
    """
    names = sorted(module.name for module in iter_modules(__path__))
    found = (import_module(f"{__name__}.{name}").CHECKS for name in names)
    return tuple(check for checks in found for check in checks)
