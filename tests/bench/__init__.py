"""How the desk bears many plants."""
