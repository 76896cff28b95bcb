"""How dates are written, by language."""
