"""verdicts"""
