"""Tables as people keep them: any usual file in, one safe file out, and what their columns hold."""
