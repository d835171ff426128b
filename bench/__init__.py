"""Benches: ratios against a reference timed in the same minute, never a bare time."""
