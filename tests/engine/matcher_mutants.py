"""Changes of the indexed matcher's code that the differential tests must notice; run by `make mutants-matcher`.

Each is one piece of text put in the place of another, in a copy of the package. A mutant that no test kills is
printed, and the exit status is then 1. A change that alters nothing that can be seen is no mutant.
"""

# ruff: noqa: E501 -- a mutant stands on one line

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ("tests/engine/test_retraction.py", "tests/engine/test_differential.py")
MUTANTS: tuple[tuple[str, str, str], ...] = (
    # matcher.py: what is kept, added, taken back
    ("matcher", "        self.plan.clear()\n", ""),
    ("matcher", "        self.live: dict[Match, Any] = {}\n", "        self.live = getattr(self, 'live', {})\n"),
    ("matcher", "        if deleting:\n            return self._start_over()\n", ""),
    ("matcher", "return list(added.values()), removed", "return list(added.values()), []"),
    ("matcher", "return list(added.values()), removed", "return [], removed"),
    ("matcher", "self.live[match] = before[match]", "pass"),
    ("matcher", "if m not in before], [a", "], [a"),
    ("matcher", "for m, a in before.items() if m not in again]", "for m, a in before.items()]"),
    ("matcher", "for m, a in before.items() if m not in again]", "for m, a in before.items() if False]"),
    ("matcher", "self._records(self.engine.facts.values(), again)", "self._records(list(self.engine.facts.values())[:-1], again)"),
    ("matcher", "if records and self.empty:", "if records:"),
    ("matcher", "        for compiled in self.plan.fill(records):", "        for compiled in self.plan.fill(records)[1:]:"),
    ("matcher", "                if step.store.facts:", "                if not step.store.facts:"),
    ("matcher", "                    self._take_back(step.waiting.pop((), ()), added, removed)", "                    pass"),
    ("matcher", "stores = self.plan.taking(record)", "stores = self.plan.taking(record)[1:]"),
    ("compiled", " if s.takes(values)]", "]"),
    ("matcher", "            store.add(record)\n", "            pass\n"),
    ("matcher", "                    self._take_back(step.waiting.pop(step.key_of(values), ()), added, removed)", "                    pass"),
    ("matcher", "if not lacking[seed.compiled.number]:", "if lacking[seed.compiled.number]:"),
    ("matcher", "for record in seed.hopeful(records):", "for record in seed.hopeful(records)[1:]:"),
    ("compiled", "if r.values[probe] in rows]", "if r.values[probe] not in rows]"),
    ("compiled", "        if self.walk[1].store.stale:\n            self.walk[1].store.refresh()\n", ""),
    ("matcher", "            if values[attribute] != env[slot]:\n                return\n", "            pass\n"),
    ("matcher", "if values[attribute] != env[slot]:", "if values[attribute] == env[slot]:"),
    ("matcher", "        if len(walk) == 1:", "        if len(walk) <= 2:"),
    ("matcher", "                env[slot] = values[attribute]\n            if equal", "                pass\n            if equal"),
    ("matcher", "            if equal and any(values[a] != env[s] for a, s in equal):\n                continue\n", ""),
    ("matcher", "            records[position] = record\n", "            pass\n"),
    ("matcher", "last = depth + 1 == len(walk)", "last = depth + 2 >= len(walk)"),
    ("matcher", "            if step.find(env):\n                return\n", ""),
    ("matcher", "            if step.find(env):\n                return\n", "            if not step.find(env):\n                return\n"),
    ("matcher", "                self._finish(compiled, [], [], added)", "                pass"),
    ("matcher", "                return\n            keys.append", "                break\n            keys.append"),
    ("matcher", "*[r.number for r in records])", "*sorted(r.number for r in records))"),
    ("matcher", "dict(zip(compiled.names, env, strict=True))", "dict(zip(compiled.names, reversed(env), strict=True))"),
    ("matcher", "self.live[match] = added[match] = activation", "added[match] = activation"),
    ("matcher", "setdefault(key, []).append(match)", "setdefault(key, [match])"),
    ("matcher", "if compiled.absent is not None:  # else", "if not compiled.absent:  # else"),
    ("matcher", "activation = self.live.pop(match, None)", "activation = self.live.get(match, None)"),
    ("matcher", "and added.pop(match, None) is None", "and added.get(match, None) is None"),
    ("matcher", "and added.pop(match, None) is None", ""),
    # stores.py and compiled.py: what is looked up
    ("stores", "if values.get(attribute) not in words:", "if attribute in values and values[attribute] not in words:"),
    ("stores", "            if name not in values:\n                return False\n", "            pass\n"),
    ("stores", "            if name in values:\n                return False\n", "            pass\n"),
    ("stores", "if test.attribute not in values or not passes", "if test.attribute in values and not passes"),
    ("compiled", "            lacking[number] -= 1", "            lacking[number] -= 2"),
    ("compiled", "                    lacking[number] += 1", "                    pass"),
    ("compiled", "            if not lacking[number]:", "            if lacking[number]:"),
    ("stores", "            return [r for r in records if self.takes(r.values)]", "            return records"),
    ("stores", "            records = [r for r in records if name in r.values]", "            pass"),
    ("stores", "        self.facts += records\n        self.stale = True\n", "        self.facts += records\n"),
    ("stores", "        self.facts += records\n", "        self.facts[:] = records\n"),
    ("stores", "        if self.store.stale:\n            self.store.refresh()\n", ""),
    ("stores", "        self.stale = bool(self.facts)\n", ""),
    ("stores", "                    rows[key].append(record)", "                    rows[key] = [record]"),
    ("stores", "                found.append(record)", "                rows[key] = [record]"),
    ("stores", "            if known == names:", "            if known[:1] == names[:1]:"),
    ("stores", "        self.facts.clear()\n", ""),
    ("stores", "            rows.clear()\n\n", "            pass\n\n"),
    ("compiled", "                yield rows[value]\n", "                yield rows[next(iter(rows))]\n"),
    ("compiled", "            yield plain\n", "            yield ()\n"),
    # what is kept from run to run
    ("compiled", "    return (record.kind, *record.values.items())", "    return (record.kind, *record.values.values())"),
    ("compiled", "    return (record.kind, *record.values.items())", "    return (*record.values.items(),)"),
    ("compiled", "                    store.keep([record], ready)\n", "                    pass\n"),
    ("compiled", "                        fits[record.number].append(store)\n", "                        pass\n"),
    ("compiled", "            self._fit[said] = found\n", "            self._fit[said] = []\n"),
    ("compiled", "self._places[store.group]:", "self._places[store.group][:1]:"),
    ("compiled", "bisect_right(self._first, place) - 1", "bisect_right(self._first, place) - 1 if place else 1"),
    ("compiled", "self._first[compiled.number] + chosen, ", "self._first[compiled.number] + seed, "),
    ("compiled", "first + n, p, slots, bound)", "first, p, slots, bound)"),
    ("compiled", "            step.waiting.clear()", "            pass"),
    ("compiled", "            store.clear()", "            pass"),
    ("compiled", "joined = [(a, n) for a, n in cells if n in bound]", "joined = [(a, n) for a, n in cells if n in bound][:1]"),
    ("compiled", "                equal.append((attribute, slots[name]))", "                pass"),
)  # fmt: skip


def survives(number: int) -> bool:
    """Whether the tests pass with the mutant in place; the last number is the unchanged code."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        shutil.copytree(ROOT / "advisor", home / "advisor", ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copytree(ROOT / "tests" / "engine", home / "tests" / "engine")
        shutil.copy(ROOT / "tests" / "conftest.py", home / "tests")
        shutil.copy(ROOT / "pyproject.toml", home)
        (home / "rules").symlink_to(ROOT / "rules")
        if number < len(MUTANTS):
            module, old, new = MUTANTS[number]
            path = home / "advisor" / "engine" / f"{module}.py"
            text = path.read_text(encoding="utf-8")
            if text.count(old) != 1:
                raise SystemExit(f"mutant {number}: the code has {text.count(old)} times: {old!r}")
            path.write_text(text.replace(old, new), encoding="utf-8")
        command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:xdist", "-p", "no:cacheprovider", *TESTS]
        environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "ADVISOR_NO_CACHE": "1"}
        try:
            done = subprocess.run(command, cwd=home, env=environment, capture_output=True, timeout=300)
        except subprocess.TimeoutExpired:
            return False  # it runs for ever, which is noticed too
        return done.returncode == 0


def main() -> int:
    """Try every mutant, two at a time."""
    with ThreadPoolExecutor(2) as pool:
        alive = list(pool.map(survives, range(len(MUTANTS) + 1)))
    if not alive.pop():
        print("The tests fail without any mutant.")
        return 1
    for number, lives in enumerate(alive):
        if lives:
            print(f"alive: {MUTANTS[number]}")
    print(f"{len(alive) - sum(alive)} of {len(alive)} mutants of the matcher killed.")
    return int(any(alive))


if __name__ == "__main__":
    sys.exit(main())
