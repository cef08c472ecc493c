"""render"""
