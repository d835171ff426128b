"""A CAN bus: frame lengths, load, worst-case response times, identifiers, termination."""
