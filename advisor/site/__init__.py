"""The site: what is true of things at each step of a plan, what may be so, and the order that follows from both."""
