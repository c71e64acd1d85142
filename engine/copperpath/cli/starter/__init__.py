"""`copperpath new`: a first station file, written after a few questions."""
