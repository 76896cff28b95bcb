"""The catalogue: objects, their sizes and where they are kept."""
