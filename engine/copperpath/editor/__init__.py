"""What an editor asks of a station file while it is being written; `server` speaks the protocol."""
