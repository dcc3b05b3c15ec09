"""How much one evaluation of what may be so looks at: counted, never timed, so that every machine gives up alike."""

# Facts looked at in one evaluation; the larger scenarios need some 70,000.
MOST_LOOKS = 250_000


class TooMuchError(Exception):
    """The plan has too much that may fit together to work out what may be so."""
