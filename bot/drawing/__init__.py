"""The drawing of charts and the printing of sheets, by a process of its own: what that takes is not loaded where the bot serves."""
