"""A mixed screen planned as a whole: which plants, how many of each, where each stands, and what becomes of it."""
