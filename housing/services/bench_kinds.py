"""All modules that handle entries of the bench; importing this one registers them."""
