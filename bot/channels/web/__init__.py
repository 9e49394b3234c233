"""The web channel: one chat page for the whole household, live on every device that has joined."""

from bot.channels.web.channel import WebChannel

__all__ = ["WebChannel"]
