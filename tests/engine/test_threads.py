"""Reviews from several threads at once give what one thread gives."""

from concurrent.futures import ThreadPoolExecutor

from engine.programs import make_program

from advisor.site.run import run


def _conclusions(seed: int) -> set[tuple[str, str]]:
    base, facts, _ = make_program(seed)
    return {(r.kind, repr(sorted(r.values.items()))) for r in run(base, facts).memory.records}


def test_threads_do_not_disturb_each_other() -> None:
    """Forty runs over six threads."""
    seeds = [*range(20), *range(20)]
    alone = [_conclusions(seed) for seed in seeds]
    with ThreadPoolExecutor(6) as pool:
        together = list(pool.map(_conclusions, seeds))

    assert together == alone
