"""Faults made for real: what the command says, and that nothing is lost or wrong."""
