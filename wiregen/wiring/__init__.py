"""wiring"""
