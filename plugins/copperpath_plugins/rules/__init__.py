"""Wiring rules, one a file, written against the public interface as an outsider would."""
