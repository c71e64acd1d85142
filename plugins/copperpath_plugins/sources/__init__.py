"""Built-in sources, one model a file."""
