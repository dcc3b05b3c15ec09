"""The page under a class: how fast it answers one person, and whether many at once all get their last answer.

    python benchmarks/page/run.py [SECONDS]

Live: the server's answer to a change of the demo against a warm review of the same change in this process (median of
both, taken in turn). Crowd: fifty people with plans of ten lines, and eight with the demo, each making a change every
two seconds; a newer change replaces an older one that was not answered. One server, as many workers as cores.
"""

from __future__ import annotations

import http.client
import json
import os
import statistics
import sys
import threading
import time
import uuid
from pathlib import Path
from urllib.parse import urlsplit

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from page.serving import serving  # noqa: E402

from advisor.plan import read_plan  # noqa: E402
from advisor.review.reviewing import review_plan  # noqa: E402
from advisor.rulebase.base import load_rulebase  # noqa: E402

DEMO = (ROOT / "scenarios" / "galley-kitchen-faulty.yaml").read_text(encoding="utf-8")
SMALL = (ROOT / "scenarios" / "trim-in-an-old-hall.yaml").read_text(encoding="utf-8")
PAUSE = 2.0  # seconds between two changes of a person
ROUNDS = 15


def ask(address: str, text: str, person: str, turn: int) -> int:
    """Send a change; the status of the answer, read to its end."""
    place = urlsplit(address)
    line = http.client.HTTPConnection(str(place.hostname), place.port, timeout=60)
    body = json.dumps({"text": text, "person": person, "turn": turn})
    line.request("POST", "/look", body, {"content-type": "application/json"})
    answer = line.getresponse()
    answer.read()
    line.close()
    return answer.status


def live(address: str) -> tuple[float, float]:
    """Seconds of the server and of a warm review, medians of as many changes taken in turn."""
    rulebase = load_rulebase()
    served, own = [], []
    for number in range(ROUNDS + 2):
        text = DEMO.replace("area: 70 sqft", f"area: {70 + number} sqft")
        began = time.perf_counter()
        assert ask(address, text, "", 0) == 200
        between = time.perf_counter()
        review_plan(read_plan(text, rulebase.vocabulary, "plan"), rulebase)
        served.append(between - began)
        own.append(time.perf_counter() - between)
    return statistics.median(served[2:]), statistics.median(own[2:])


class Person(threading.Thread):
    """Somebody who changes the plan every two seconds and waits for the answers."""

    def __init__(self, address: str, plan: str, seconds: float, late: float) -> None:
        super().__init__()
        self.address, self.plan, self.seconds, self.late = address, plan, seconds, late
        self.answered: list[float] = []  # seconds till an answer came
        self.replaced = 0
        self.last = False

    def run(self) -> None:
        """Change, and change again without waiting for what is not answered yet."""
        time.sleep(self.late)
        person, began, turn, asked = str(uuid.uuid4()), time.monotonic(), 0, []
        while time.monotonic() - began < self.seconds:
            turn += 1
            one = threading.Thread(target=self._ask, args=(person, turn))
            one.start()
            asked.append(one)
            time.sleep(PAUSE)
        self.turns = turn
        for one in asked:
            one.join()

    def _ask(self, person: str, turn: int) -> None:
        began = time.monotonic()
        status = ask(self.address, f"{self.plan}# change {turn}\n", person, turn)
        if status == 200:
            self.answered.append(time.monotonic() - began)
            self.last |= turn == getattr(self, "turns", turn)
        elif status == 409:
            self.replaced += 1


def crowd(address: str, people: int, plan: str, seconds: float) -> dict[str, float]:
    """What became of the changes of so many people."""
    all_of_them = [Person(address, plan, seconds, PAUSE * number / people) for number in range(people)]
    for one in all_of_them:
        one.start()
    for one in all_of_them:
        one.join()
    times = sorted(t for one in all_of_them for t in one.answered)
    return {
        "people": people,
        "changes": sum(one.turns for one in all_of_them),
        "answered": len(times),
        "replaced": sum(one.replaced for one in all_of_them),
        "last_answered": sum(one.last for one in all_of_them),
        "median_s": round(statistics.median(times), 3),
        "p95_s": round(times[int(0.95 * (len(times) - 1))], 3),
        "within_1_s": round(sum(t < 1 for t in times) / len(times), 4),
    }


def main() -> None:
    """Print all of it."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60.0
    with serving(workers=os.cpu_count() or 1) as address:
        for _ in range(2 * (os.cpu_count() or 1)):
            ask(address, SMALL, "", 0)  # all workers have read the rules
        served, own = live(address)
        print(f"live: server {served:.3f} s, warm review {own:.3f} s, ratio {served / own:.2f}")
        print("ten lines:", crowd(address, 50, SMALL, seconds))
        print("the demo:", crowd(address, 8, DEMO, seconds))


if __name__ == "__main__":
    main()
