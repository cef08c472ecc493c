"""What the chosen plants need in each month: planting, water, pruning, winter, and what to look for."""
