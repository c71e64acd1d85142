"""Built-in loads, one model a file."""
