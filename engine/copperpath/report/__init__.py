"""Records and stations turned into screens, files and pages. See the modules."""
