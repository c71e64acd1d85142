"""Built-in storage, one model a file."""
