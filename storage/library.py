"""The SQLite library, without the numeric ones that it would load for values which are never given to it: 10 MB and a tenth of a second."""

import sys

_UNUSED = [name for name in ("numpy", "pandas") if name not in sys.modules]
for _name in _UNUSED:
    sys.modules[_name] = None  # type: ignore[assignment]  # that is: not to be found

from sqlite_utils import Database, Migrations  # noqa: E402

for _name in _UNUSED:
    del sys.modules[_name]

__all__ = ["Database", "Migrations"]
