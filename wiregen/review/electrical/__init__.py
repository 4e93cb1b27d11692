"""Findings that rest on the operating point of the wired circuit."""
