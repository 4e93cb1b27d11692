"""Pure functions and tables of the trade, each with units and a published source.

An argument that cannot be (negative, not a number, endless, zero where it divides) raises ValueError with a sentence
that names it and says what would be right. Nothing is rounded on the way; what is printed rounds.
"""
