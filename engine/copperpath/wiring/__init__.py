"""What the trade knows of wires and fuses, and what a station's wiring says by its shape alone."""
