"""How what is said reaches people: by several ways, tried in order until it is known to have arrived."""

from bot.delivery.delivery import Channel, Delivery
from bot.delivery.ladder import Came, Try, Way

__all__ = ["Came", "Channel", "Delivery", "Try", "Way"]
