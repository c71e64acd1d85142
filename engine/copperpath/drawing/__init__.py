"""Pictures of a run, of the sun's yield and of a station; matplotlib is imported only when one is
asked for."""
