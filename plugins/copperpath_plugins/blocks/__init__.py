"""Built-in blocks, one model a file."""
