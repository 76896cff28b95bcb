"""Every page of the demo museum in a real browser at three widths, and every print as a picture."""
