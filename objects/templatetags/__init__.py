"""Template tags of the objects app."""
