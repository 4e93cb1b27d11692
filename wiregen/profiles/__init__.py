"""profiles"""
