"""The housing planner: designs, campaigns, estimates, prints, and the pages of the site."""
