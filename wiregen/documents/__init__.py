"""documents"""
