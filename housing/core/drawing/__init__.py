"""Drawings as SVG text: pure functions, sizes in mm on paper, no styles that a strict page would refuse."""
