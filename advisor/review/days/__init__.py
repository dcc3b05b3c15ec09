"""The order of work on the calendar: hours, days, the critical path, money, what the house does without."""
