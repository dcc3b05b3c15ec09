"""From conclusions to a report: findings, order of work, questions, what was not checked."""
