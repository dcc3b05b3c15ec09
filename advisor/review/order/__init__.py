"""The order of work: what must come before what, rings opened, steps moved as little as that allows."""
