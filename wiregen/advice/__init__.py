"""Advice: why it is so, what would change it, and which alternative is better. It re-runs the rooms below."""
