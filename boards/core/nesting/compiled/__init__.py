"""The inner loops of the nesting, compiled once to machine code and kept beside the sources.

A tree says how a sheet is cut: a node is a blank, waste, or split along x (0) or along y (1) into nodes side
by side, whose own splits run the other way. Waste beside waste is one, since neighbours may change places.
Sizes are whole numbers of UNIT_MM held in floats, so that sums are exact. Nothing here knows the rest of the
nesting.
"""
