"""Pictures of a run and of the sun's yield; matplotlib is imported only when one is asked for."""
