"""allocation"""
