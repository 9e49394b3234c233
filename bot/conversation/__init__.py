"""The bot of one litter: it hears, keeps, replies, and speaks up, with the time as an argument."""

from bot.conversation.conversation import Conversation, House
from bot.conversation.said import EVERYONE, Heard, Message, Said

__all__ = ["EVERYONE", "Conversation", "Heard", "House", "Message", "Said"]
