"""The drawing process: reads what to draw from its input, a line of JSON each, and writes the picture to its output.

An answer is a line of JSON, `{"bytes": n}` with so many bytes behind it, or `{"fault": "why"}`. The process ends with its input.
"""

from __future__ import annotations

import json
import os
import sys
import traceback
from typing import Any, BinaryIO

from pydantic import TypeAdapter

from bot.charts import Chart
from bot.sheets import Sheet

NICER = 5
"""How much the drawing steps back behind the bot, whose replies must not wait for it."""

_CHART: TypeAdapter[Any] = TypeAdapter(Chart)


def made(request: dict[str, Any]) -> bytes:
    """What was asked for; what draws it is loaded at the first request."""
    match request:
        case {"do": "chart", "chart": chart, "variant": "dark" | "light" | "paper" as variant}:
            from bot.drawing.picture import draw

            return draw(_CHART.validate_python(chart), variant)
        case {"do": "sheet", "sheet": sheet}:
            from bot.drawing.paper import print_sheet

            return print_sheet(Sheet.model_validate(sheet))
    raise ValueError("that is nothing to be drawn")


def work(requests: BinaryIO, answers: BinaryIO) -> None:
    """Answer until the requests end; one that fails is answered too, and shown in the machine's log."""
    for line in requests:
        try:
            drawn = made(json.loads(line))
            head: dict[str, object] = {"bytes": len(drawn)}
        except Exception as fault:  # noqa: BLE001 (whatever it was, the next chart can be drawn)
            traceback.print_exc()
            drawn, head = b"", {"fault": f"{type(fault).__name__}: {fault}"}
        answers.write(json.dumps(head).encode() + b"\n" + drawn)
        answers.flush()


def main() -> int:
    """Work on the process's own input and output; whatever else prints goes to the error output."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    os.nice(NICER)
    work(sys.stdin.buffer, answers)
    return 0


if __name__ == "__main__":
    sys.exit(main())
