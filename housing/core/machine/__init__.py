"""Blanks and whole sheets as lines for a cutting table or plotter, at their true size, and their files."""
