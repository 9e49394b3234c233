"""The process that notifies: one request as JSON on its input; it ends with 0 where at least one service took it."""

from __future__ import annotations

import json
import sys


def main() -> int:
    """Send to every address by itself, so that one that fails hides no other."""
    from apprise import Apprise

    request = json.load(sys.stdin)
    took = [_send(Apprise(), address, request["title"], request["body"]) for address in request["addresses"]]
    return 0 if any(took) else 1


def _send(sender: object, address: str, title: str, body: str) -> bool:
    return bool(sender.add(address) and sender.notify(title=title, body=body))  # type: ignore[attr-defined]


if __name__ == "__main__":
    sys.exit(main())
