"""A station asked before it is built: its corners, edits of it, and what the rules say."""
