"""Tables of the plan and the work: columns and their order."""
