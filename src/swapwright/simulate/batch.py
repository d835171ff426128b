"""Many cars."""
