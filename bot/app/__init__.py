"""The app puts the rooms together: a command of the command line is a module here, and nothing else knows all the rooms."""
