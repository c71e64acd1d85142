"""Built-in converters, one model a file."""
