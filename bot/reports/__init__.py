"""One file a question: the answers, worked out from the nursery. Pure."""
