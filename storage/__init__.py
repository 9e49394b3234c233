"""One SQLite file keeps what was said and what it meant; this room knows rows and models, no words and no animals."""

from storage.backup import back_up, problems, restore
from storage.faults import AlreadyTold, ClientIdReused, NotKept, StorageError
from storage.journal import Journal
from storage.records import (
    Device,
    Entry,
    Invite,
    Kept,
    KeptMessage,
    Litter,
    LogLine,
    NewEvent,
    NewMessage,
    Person,
    Sensor,
    TriedWay,
    Withdrawal,
)
from storage.register import Register

__all__ = [
    "AlreadyTold",
    "ClientIdReused",
    "Device",
    "Entry",
    "Invite",
    "Journal",
    "Kept",
    "KeptMessage",
    "Litter",
    "LogLine",
    "NewEvent",
    "NewMessage",
    "NotKept",
    "Person",
    "Register",
    "Sensor",
    "StorageError",
    "TriedWay",
    "Withdrawal",
    "back_up",
    "problems",
    "restore",
]
