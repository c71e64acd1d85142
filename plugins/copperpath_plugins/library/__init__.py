"""Generic parts as station-language text, one file a subject; none stands for a single product."""
