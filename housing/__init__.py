"""The housing planner: designs, campaigns, budgets, prints, and the pages of the site."""
