"""How the schema of a store is made and brought up, step by step."""
