"""The shop's store: what happened, written once, in a chain that shows any later change."""
