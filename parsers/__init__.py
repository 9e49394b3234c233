"""From words to events. Knows no database, network or clock; this is its front door."""

from parsers.events import KINDS, Event, Units
from parsers.explaining import explain
from parsers.litter_card import LitterCard
from parsers.reader import read
from parsers.reading import Fix, Question, Reading, Setup
from parsers.saying_back import read_back

__all__ = ["KINDS", "Event", "Fix", "LitterCard", "Question", "Reading", "Setup", "Units", "explain", "read", "read_back"]
