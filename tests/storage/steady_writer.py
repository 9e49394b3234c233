"""A program that writes without end and prints what it was told is kept, to be killed in the middle."""

from __future__ import annotations

import sys
from itertools import count
from pathlib import Path

from tests.storage.told import NIGHT, message, open_journal, reply, weighed


def main() -> None:
    journal = open_journal(Path(sys.argv[1]))
    room = journal.register.add_litter("Juniper", NIGHT)
    for n in count(1):
        journal.write(message(f"message {n}", room, client_id=str(n)), [weighed(n, 200.0), weighed(n, 201.0)], [reply(f"reply {n}", room)])
        sys.stdout.write(f"{n}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
