"""The kinds of event, one file each: its fields and how it is read back. Everything else may use these."""

from importlib import import_module
from pkgutil import iter_modules

from parsers.events.base import KINDS, Event, Units, Who, make

for _module in iter_modules(__path__):
    import_module(f"{__name__}.{_module.name}")

__all__ = ["KINDS", "Event", "Units", "Who", "make"]
