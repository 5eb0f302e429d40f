"""What follows from a plan alone: kinds of blocks, rounds, and what its moves are called."""
