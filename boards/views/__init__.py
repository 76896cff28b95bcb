"""Pages of the boards and of what is bought besides, one noun a file."""
