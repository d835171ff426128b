"""The steps the schema of a store has gone through, oldest first."""
