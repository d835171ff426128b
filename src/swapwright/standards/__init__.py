"""Tables, limits and drive cycles of published standards and of the trade, each with its source."""
