"""The household: its people and their rights, their devices and invitations, and its litters, one conversation each."""

from bot.household.household import Household, open_household
from bot.household.joining import INVITE_HOLDS, JoinRefused

__all__ = ["INVITE_HOLDS", "Household", "JoinRefused", "open_household"]
