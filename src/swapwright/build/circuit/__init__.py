"""The high-voltage circuit of a car as a graph: its elements, read from either form of the file."""
