"""The 12 V side: what its loads draw, what the battery lasts, what the wires carry."""
