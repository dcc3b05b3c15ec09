"""Days on which the house does without its sink, cooker, water, power or a room."""

from __future__ import annotations

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, number, words
from advisor.review.days.worktime import DAY
from advisor.rulebase.vocabulary import Vocabulary


class Service(Struct, frozen=True):
    """What the house may be without, and the classes of the vocabulary that tell when."""

    shown: str
    parts: str = ""  # kinds of part that give it
    stops: str = ""  # actions that end it without naming a part
    restores: str = ""  # actions that bring it back
    local: str = ""  # kinds of part with a stop, a valve or a breaker of their own
    stated: str = ""  # those of them that have one only where the plan says so


_SERVICES = {
    "sink": Service("kitchen sink", parts="gives water at the sink"),
    "cooking": Service("cooker", parts="cooks"),
    "power": Service("power", stops="ends the power", restores="brings the power", local="has a breaker of its own"),
    "water": Service(
        "water",
        stops="ends the water",
        restores="brings the water",
        local="may have a stop of its own",
        stated="seldom has a stop of its own",
    ),
    "gas": Service("gas", stops="ends the gas", restores="brings the gas", local="has a gas valve of its own"),
}


class Outage(Struct, frozen=True):
    """A stretch without something: from which step to which, on how many calendar days, and what is bearable."""

    what: str
    first: str
    last: str
    start: int  # calendar time [min]
    end: int
    back: bool  # whether a step of the plan brings it back
    allowed: int | None

    @property
    def days(self) -> int:
        """Calendar days touched, the first and the last counted."""
        return max(self.end - 1, self.start) // DAY - self.start // DAY + 1

    @property
    def name(self) -> str:
        """What is missing, in words."""
        return _SERVICES[self.what].shown if self.what in _SERVICES else self.what


Times = dict[str, tuple[int, int]]  # step to start and end with its wait [min of calendar time]


def outages(plan: Plan, steps: list[Entity], times: Times, vocabulary: Vocabulary) -> list[Outage]:
    """All outages that the plan brings, services first, then rooms; a step that names no kind is left aside."""
    if "action" not in vocabulary.taxonomies or "part_kind" not in vocabulary.taxonomies:
        return []
    ordered = sorted(steps, key=lambda s: (times[s.id], s.id))
    found = []
    for service, words_of in _SERVICES.items():
        if words_of.parts:
            found += _of_parts(service, words_of.parts, plan, ordered, times, vocabulary)
        else:
            found += _switched(service, plan, ordered, times, vocabulary)
    return found + _rooms(plan, ordered, times, vocabulary)


def _allowed(plan: Plan, service: str) -> int | None:
    budget = plan.entities.get("budget", {}).get("budget")
    value = number(budget, f"days_without_{service}")
    return None if value is None else int(value)


def _of_parts(
    service: str, kinds: str, plan: Plan, steps: list[Entity], times: Times, vocabulary: Vocabulary
) -> list[Outage]:
    parts = plan.entities.get("part", {})
    meant = vocabulary.members("part_kind", kinds)
    own = {p for p, e in parts.items() if (words(e, "kind") or ("",))[0] in meant and _in_kitchen(plan, e, vocabulary)}
    under = {base for p in own for a in ("in", "on") for base in words(parts[p], a)}
    out, back = vocabulary.members("action", "takes out of use"), vocabulary.members("action", "brings into use")
    goes: list[str] = []
    comes: list[str] = []
    for step in steps:
        action, touched = action_of(step), set(words(step, "to"))
        # Taking out what it stands in takes it out too.
        if action in out and touched & (own | under):
            goes.append(step.id)
        if action in back and touched & own:
            comes.append(step.id)
    if not goes and not comes:
        return []
    first = goes[0] if goes else comes[0]
    later = [s for s in comes if times[s][0] >= times[first][0]]
    last = max(later or [s.id for s in steps], key=lambda s: times[s][1])
    return [Outage(service, first, last, times[first][0], times[last][1], bool(later), _allowed(plan, service))]


def _in_kitchen(plan: Plan, part: Entity, vocabulary: Vocabulary) -> bool:
    """Whether the part is in a kitchen, or in a room that nobody named."""
    kitchens = vocabulary.members("room_kind", "is cooked in")
    rooms = [plan.entities.get("room", {}).get(name) for name in words(part, "room")]
    kinds = [words(room, "kind")[:1] for room in rooms if room is not None]
    return all(kinds_of[0] in kitchens for kinds_of in kinds if kinds_of)


def _switched(
    service: str,
    plan: Plan,
    steps: list[Entity],
    times: Times,
    vocabulary: Vocabulary,
) -> list[Outage]:
    known = _SERVICES[service]
    off, on = vocabulary.members("action", known.stops), vocabulary.members("action", known.restores)
    found: list[Outage] = []
    since = ""
    for step in steps:
        action = action_of(step)
        if action in off and not since and not _only_there(service, step, plan, vocabulary):
            since = step.id
        elif action in on and since:
            found.append(
                Outage(service, since, step.id, times[since][0], times[step.id][1], True, _allowed(plan, service))
            )
            since = ""
    if since:
        last = max((s.id for s in steps), key=lambda s: times[s][1])
        found.append(Outage(service, since, last, times[since][0], times[last][1], False, _allowed(plan, service)))
    return found


def _only_there(service: str, step: Entity, plan: Plan, vocabulary: Vocabulary) -> bool:
    """Whether the step shuts off nothing but the parts it names, each at a stop of its own."""
    known = _SERVICES[service]
    kinds = vocabulary.members("part_kind", known.local)
    without = vocabulary.members("part_kind", known.stated) if known.stated else frozenset[str]()
    parts = [plan.entities.get("part", {}).get(name) for name in words(step, "to")]
    return bool(parts) and all(part is not None and _has_stop(part, kinds, without) for part in parts)


def _has_stop(part: Entity, kinds: frozenset[str], without: frozenset[str]) -> bool:
    stated = (words(part, "stop_valves") or ("",))[0]
    kind = (words(part, "kind") or ("",))[0]
    return kind in kinds and stated != "no" and (kind not in without or stated == "yes")


def _rooms(plan: Plan, steps: list[Entity], times: Times, vocabulary: Vocabulary) -> list[Outage]:
    messy = vocabulary.members("action", "fills a room")
    parts = plan.entities.get("part", {})
    used: dict[str, list[str]] = {}
    for step in steps:
        if action_of(step) not in messy:
            continue
        rooms = words(step, "in") or tuple(r for p in words(step, "to") if p in parts for r in words(parts[p], "room"))
        for room in dict.fromkeys(rooms):
            used.setdefault(room, []).append(step.id)
    found = []
    for room in sorted(used):
        last = max(used[room], key=lambda s: times[s][1])
        first = used[room][0]
        found.append(Outage(f"room {room}", first, last, times[first][0], times[last][1], True, None))
    return found
