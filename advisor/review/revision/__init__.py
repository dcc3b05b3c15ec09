"""Advice written into the text of a plan."""
