"""quantities"""
