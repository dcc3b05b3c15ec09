"""Reads a renovation plan before the work and says what to do first."""
