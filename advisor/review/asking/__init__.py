"""Walks through the questions of a plan, for a terminal, a page and an interview."""
