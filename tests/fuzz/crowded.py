"""Small plans and packs made to explode: crowded steps, free patterns, branches upon branches, facts without end."""

from __future__ import annotations

import random
from collections.abc import Callable

HEAD = "pack: crowded\ntitle: Crowded\n"
SAY = 'what: "Look at {{ step }}.", because: "It is crowded."'


def plan(parts: int = 1, steps: int = 1, products: int = 0, to: int = 1, using: int = 0) -> str:
    """Steps that all sand the first `to` parts (or paint them with the first `using` products)."""
    lines = ["rooms: {r: {kind: hallway}}", "parts:"]
    lines += [f"  p{n}: {{kind: trim, room: r, coating: paint}}" for n in range(parts)]
    if products:
        lines += ["products:", *(f"  q{n}: {{kind: paint}}" for n in range(products))]
    named = ", ".join(f"p{n}" for n in range(to))
    used = f", using: [{', '.join(f'q{n}' for n in range(using))}]" if using else ""
    do = "paint" if using else "sand"
    lines += ["steps:", *(f"  - {{id: s{n}, do: {do}, to: [{named}]{used}}}" for n in range(steps))]
    return "\n".join(lines) + "\n"


def rule(name: str, *when: str, say: str = "") -> str:
    """A rule that warns of danger, or what `say` is."""
    said = say or f"warn: {{signal: danger, at: $step, {SAY}}}"
    conditions = "".join(f"      - {line}\n" for line in when)
    return (
        f"  - id: {name}\n    title: Rule {name}\n    when:\n{conditions}    {said}\n"
        "    sources: [{common_practice: yes}]\n    serves: [order-of-work-1]\n"
    )


def pack(*rules: str, kinds: str = "") -> str:
    """A pack of such rules; `kinds` declares what they deduce."""
    return HEAD + (f"kinds:\n{kinds}" if kinds else "") + "rules:\n" + "".join(rules)


STEP = "step: {id: $step, do: sand}"
PAIR = "  pair: {meaning: two parts, one: ref part, other: ref part}\n"
NUMBERS = "  numbers: {meaning: two numbers, one: number, other: number}\n"


def branches(lists: int, each: int = 8) -> str:
    """A rule with so many `any` of so many branches; the last branch of each is the one that the plan fits."""
    coatings = ["varnish", "shellac", "oil", "wax", "lacquer", "enamel", "stain", "paint"][-each:]
    choice = "any: [" + ", ".join(f"{{part: {{coating: {one}}}}}" for one in coatings) + "]"
    return pack(rule("branches", STEP, *[choice] * lists))


def nested_branches(depth: int) -> str:
    """`any` within `any`, each of two branches that both hold the next."""
    inner = "{part: {kind: trim}}"
    for _ in range(depth):
        inner = f"{{any: [[{inner}, {inner}], {{part: {{kind: door}}}}]}}"
    return pack(rule("nested", STEP, inner))


def free(patterns: int) -> str:
    """Patterns on parts that share no variable."""
    return pack(rule("free", STEP, *(f"part: {{id: $x{n}}}" for n in range(patterns))))


def tied(patterns: int) -> str:
    """The same, tied by the room that all parts stand in."""
    return pack(rule("tied", STEP, *(f"part: {{id: $x{n}, room: $room}}" for n in range(patterns))))


def compared(patterns: int) -> str:
    """The same, compared by their places alone: a guard looks through them."""
    later = [f"step: {{id: $t{n}, later_than: {f'$t{n - 1}' if n else '$step'}}}" for n in range(patterns)]
    return pack(rule("compared", STEP, *later))


def absent(patterns: int) -> str:
    """A `not` of patterns that hold together in many ways, save for the last."""
    inside = ", ".join([*(f"{{part: {{id: $x{n}}}}}" for n in range(patterns)), "{part: {kind: door}}"])
    return pack(rule("absent", STEP, f"not: [{inside}]"))


def absent_branches(lists: int) -> str:
    """Branches inside a `not`, none of which is enough in the end."""
    choice = "{any: [" + ", ".join(["{part: {kind: trim}}"] * 8) + "]}"
    return pack(rule("absent", STEP, f"not: [{', '.join([choice] * lists)}, {{part: {{kind: door}}}}]"))


def pairs() -> str:
    """Facts for all pairs, and a rule for all paths through them."""
    deduce = "deduce: {pair: {one: $one, other: $other}}"
    first = rule("pairs", "part: {id: $one, room: $room}", "part: {id: $other, room: $room}", say=deduce)
    path = rule("paths", "pair: {one: $one, other: $mid}", "pair: {one: $mid, other: $other}", say=deduce)
    warn = rule("triples", STEP, "pair: {one: $a, other: $b}", "pair: {one: $b, other: $c}")
    return pack(first, path, warn, kinds=PAIR)


def endless() -> str:
    """Each pair of numbers makes two more, for as long as numbers grow."""
    start = rule("start", STEP, say='deduce: {numbers: {one: "6", other: "6"}}')
    more = "compute: {$next: {calendar_days: {working_days: %s}}}"
    both = "numbers: {one: $one, other: $other}"
    one = rule("one-more", both, more % "$one", say="deduce: {numbers: {one: $next, other: $other}}")
    other = rule("other-more", both, more % "$other", say="deduce: {numbers: {one: $one, other: $next}}")
    return pack(start, one, other, kinds=NUMBERS)


def chain() -> str:
    """Each number makes the next one, some thousand in a row, and a finding on each."""
    start = rule("start", STEP, say='deduce: {numbers: {one: "6", other: "6"}}')
    more = "compute: {$next: {calendar_days: {working_days: $one}}}"
    both = "numbers: {one: $one, other: $other}"
    one = rule("one-more", both, more, say="deduce: {numbers: {one: $next, other: $other}}")
    return pack(start, one, rule("of-each", STEP, both), kinds=NUMBERS)


def many_rules(count: int, patterns: int = 3) -> str:
    """So many rules, each of which does much."""
    tie = [f"part: {{id: $x{n}, room: $room}}" for n in range(patterns)]
    return pack(*(rule(f"many-{n}", STEP, *tie) for n in range(count)))


def said_often(parts: int = 2) -> str:
    """A finding for each pair of parts at each step."""
    tie = [f"part: {{id: $x{n}, room: $room}}" for n in range(parts)]
    names = ", ".join(f"$x{n}" for n in range(parts))
    say = f"warn: {{signal: notice, at: $step, per: [{names}], {SAY}}}"
    return pack(rule("often", STEP, *tie, say=say))


def in_a_row() -> str:
    """Every step before every later one."""
    say = f"precede: {{signal: notice, first: $then, then: $step, {SAY}}}"
    return pack(rule("row", STEP, "step: {id: $then, do: sand, later_than: $step}", say=say))


def advised() -> str:
    """Advice that calls for the same advice again, at each step."""
    say = f"require: {{signal: notice, before: $step, {SAY}, advise: [{{add: {{do: sand, to: $p}}, before: $step}}]}}"
    return pack(rule("advice", "step: {id: $step, do: sand, to: $p}", "step: {do: sand, to: $p}", say=say))


def deep(conditions: int) -> str:
    """A chain of conditions, each on what the one before it bound."""
    return pack(rule("deep", STEP, *(f"part: {{id: $x{n}, on: $x{n + 1}}}" for n in range(conditions))))


REFUSED = "nothing was reviewed"
# Each with the plan that it explodes on, and what comes of it: the refusal's words, or rules that are not checked.
PACKS: dict[str, tuple[Callable[[], str], str, str | tuple[str, ...]]] = {
    "nine lists of eight branches": (lambda: branches(9), plan(), "'any' make 134,217,728 combinations"),
    "branches within branches": (lambda: nested_branches(5), plan(), "'any' make 458,330 combinations"),
    "five free patterns": (lambda: free(5), plan(25), "share no variable"),
    "a chain of conditions": (lambda: deep(1_500), plan(50), "1,501 conditions"),
    "five patterns tied by a room": (lambda: tied(5), plan(25), ("tied",)),
    "steps compared by their place": (lambda: compared(5), plan(1, 100), ("compared",)),
    "five free patterns that may not be": (lambda: absent(5), plan(25), ("absent",)),
    "branches that may not be": (lambda: absent_branches(9), plan(10), ("absent",)),
    "all pairs and all paths": (pairs, plan(100), ("paths", "triples")),
    "facts without an end": (endless, plan(), ("one-more", "other-more")),
    "facts in a row": (chain, plan(), ()),
    "a thousand rules at once": (lambda: many_rules(1_000), plan(40, 10), ("many-0", "many-999")),
    "a finding for each pair": (said_often, plan(150, 4), ("often",)),
    "a finding for each of some pairs": (said_often, plan(60, 4), ()),
    "all steps in a row": (in_a_row, plan(1, 300), ("row",)),
    "fewer steps in a row": (in_a_row, plan(1, 230), ()),
    "advice upon advice": (advised, plan(1, 200), ("advice",)),
}
# Each with one of the rules that it is too much for.
PLANS = {
    "one step, 200 parts, 50 products": (plan(200, 1, 50, 200, 50), "vapor-can-burn"),
    "a thousand steps on one part": (plan(1, 1_000), "ready-if-lead-is-found"),
    "two thousand steps on one part": (plan(1, 2_000), "ready-if-lead-is-found"),
    "forty steps on forty parts": (plan(40, 40, 10, 40, 10), "vapor-can-burn"),
}


def any_crowd(random_: random.Random) -> tuple[str, str]:
    """A plan and a pack, crowded to some degree that is drawn."""
    parts, steps = random_.randint(1, 60), random_.randint(1, 60)
    crowd = plan(parts, steps, 6, random_.randint(1, parts), random_.randint(0, 6))
    size = random_.randint(1, 6)
    made = random_.choice((branches, free, tied, compared, absent, absent_branches, deep, said_often))
    texts = (
        lambda: made(size),
        pairs,
        endless,
        chain,
        in_a_row,
        advised,
        lambda: many_rules(random_.randint(1, 40), 2),
    )
    return crowd, random_.choice(texts)()
