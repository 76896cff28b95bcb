"""What the pages show: querysets and plain rows, nothing written."""
