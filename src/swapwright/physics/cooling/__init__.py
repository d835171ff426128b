"""Cooling: coolant through hoses and parts, heat into it and out of it."""
