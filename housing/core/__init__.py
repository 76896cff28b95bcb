"""The computation of the planner: plain typed Python, no framework, no database."""
