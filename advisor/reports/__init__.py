"""Renderers: one module a format, each a function from a Report to text."""
