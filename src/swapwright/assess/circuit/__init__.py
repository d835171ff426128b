"""The figures of the high-voltage circuit, each part of the job in its module."""
