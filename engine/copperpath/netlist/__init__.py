"""A station's circuit at one instant as a netlist that general circuit simulators read."""
