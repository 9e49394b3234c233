"""What follows from what happened: who there is, how they grow, what care is due. Pure computations on events."""
