"""Lengths, dimensions and numbers as catalogues write them: plain Python, no framework."""
