"""Advice: what would make a scheme fit and which alternative is better, each tried by running the pipeline again."""
