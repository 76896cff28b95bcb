"""Minutes of work: elements with their standard times, allowances, learning, and what was logged."""
