"""Starting plans for usual jobs: read from `rules/jobs/`, joined into one plan, written with holes to fill in."""

from advisor.jobs.joining import Start, join
from advisor.jobs.reading import Job, find_jobs, read_jobs
from advisor.jobs.writing import write_start

__all__ = ["Job", "Start", "find_jobs", "join", "read_jobs", "write_start"]
