"""Pages of the catalogue, one noun a file."""
