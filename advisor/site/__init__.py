"""The site: what may be so beside what the plan says."""
