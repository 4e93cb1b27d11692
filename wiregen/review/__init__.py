"""review"""
