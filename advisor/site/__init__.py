"""The site: what is true of things at each step of a plan, what a step needs, and the order that follows from it."""
