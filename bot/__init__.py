"""The bot: it hears messages, keeps them, answers, and speaks up when care is due."""
