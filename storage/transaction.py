"""A block of changes that is kept whole or not at all."""

from __future__ import annotations

import sqlite3
from types import TracebackType

from storage.faults import FAILURES, not_kept


class Transaction:
    """`with Transaction(connection):` keeps all that is written in the block when it ends, and nothing of it where it raises.

    One inside another is a part of it: it is undone alone where it alone raises, and is on the disk only when the outermost ends.
    The outermost takes the write lock first, so that nothing read in it can be out of date by the time something is written.
    Written out here, since `Database.atomic` locks only at the first write, and is slow inside another. Raises NotKept where SQLite fails.
    """

    __slots__ = ("_connection", "_inner")

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def __enter__(self) -> None:
        self._inner = self._connection.in_transaction
        try:
            self._connection.execute("savepoint part" if self._inner else "begin immediate")
        except sqlite3.Error as error:
            raise not_kept(error) from error

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        if error is None:
            try:
                self._connection.execute("release part" if self._inner else "commit")
            except sqlite3.Error as failure:
                self._undo()
                raise not_kept(failure) from failure
        else:
            self._undo()
            if isinstance(error, FAILURES):
                raise not_kept(error) from error

    def _undo(self) -> None:
        if not self._connection.in_transaction:
            return  # a full disk may have made SQLite undo it all by itself
        if self._inner:
            self._connection.execute("rollback to part")
            self._connection.execute("release part")
        else:
            self._connection.execute("rollback")
