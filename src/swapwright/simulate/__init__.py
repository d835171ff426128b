"""The time loop: one `step` for a single run and a batch, over plain numbers."""
