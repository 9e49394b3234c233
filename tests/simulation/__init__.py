"""Four weeks of a litter, simulated: people who talk, a machine that fails, and the contract written a second time to compare with."""
