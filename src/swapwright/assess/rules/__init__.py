"""The rules, grouped by subject; `every.RULES` lists them all."""
