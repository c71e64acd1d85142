"""What the command's exit code says."""

GOOD = 0
"""It holds or lasts, every requirement is met, no finding of level danger or fail stands."""
STANDS = 1
"""A requirement or a finding of level danger or fail stands, or the station runs down."""
WRONG = 2
"""The file or the call is wrong."""
OURS = 3
"""A mistake of copperpath itself."""
STOPPED = 130
"""Stopped by hand."""
