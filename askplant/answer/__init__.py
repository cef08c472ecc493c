"""answer"""
