"""Pages of the plan and the work, one noun a file."""
