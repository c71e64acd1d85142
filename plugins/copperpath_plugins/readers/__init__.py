"""Readers of weather files, one format a file."""
