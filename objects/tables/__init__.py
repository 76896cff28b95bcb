"""Tables that readers shape: which columns they see, and the rows as a file."""
