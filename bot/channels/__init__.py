"""The ways in and out: a room for each; all of them speak through bot.delivery."""
