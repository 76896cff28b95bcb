"""What changes the catalogue, one noun a file."""
