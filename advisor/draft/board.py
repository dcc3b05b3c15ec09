"""What has been heard so far: things, steps, facts with their places in the text, offers, and what is talked about."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.draft import forms
from advisor.rulebase.vocabulary import Vocabulary, fold

MOST_THINGS = 300
MOST_CANDIDATES = 3
Span = tuple[int, int]  # letters of the text


class Fact(Struct):
    """A value as a plan writes it, where it was heard, and what is to be said of it."""

    value: str | list[str]
    spans: list[Span]
    note: str = ""  # hedged, inferred


class Thing(Struct):
    """A room, part, product, step, or house, crew, budget."""

    sort: str
    id: str
    facts: dict[str, Fact] = field(default_factory=dict)
    age: str = ""  # old | new, where the words tell two of a kind apart
    words: str = ""  # its last name in the text
    place: int = 0  # the token at which it was last spoken of
    goal: bool = False  # a step that is the purpose, told again in its parts
    opening: bool = False  # the first step, alone in its sentence: it may only sum up what follows
    drop: bool = False
    put_in: bool = False  # takes the place of another: `the light for a fan`
    kept: bool = False  # a room in which only something is kept
    final: bool = False  # a step that is told to come last of all
    follows: bool = False  # a step that words put behind the one before
    joined: bool = False  # a step that `and` joins to the one before
    weekday: int = 0  # the day of the week on which a step is told, 1 to 7
    ahead: bool = False  # a step whose name tells that it comes early: `predrill`
    apart: bool = False  # a room in which only what serves the work stands
    bare: bool = False  # a step whose words name no part
    moved: bool = False  # a step told as moving: `traps on`
    others: list[str] = field(default_factory=list)  # of a step: what else it may be done to
    removed: bool = False  # taken off or out by the last step done to it
    gone: bool = False  # taken off for good: old carpet, wallpaper
    born: int = 0  # the token at which it was first spoken of
    covered: bool = False  # kept clean while something else is worked on
    idle: Span | None = None  # wanted, new, or to make room: a step is to touch it
    instead: bool = False  # `a new one`: it takes the place of the one that is there
    wanted: bool = False  # it is told that there is to be one
    called: bool = False  # introduced with a name: nothing is inferred of it

    def members(self, name: str) -> list[str]:
        """What an attribute lists; nothing where it is not told, or is one word."""
        fact = self.facts.get(name)
        return list(fact.value) if fact is not None and isinstance(fact.value, list) else []

    @property
    def kind(self) -> str:
        """Its kind, or what a step does."""
        fact = self.facts.get("do" if self.sort == "step" else "kind")
        return str(fact.value) if fact else ""


class Candidate(Struct, frozen=True):
    """One way to take words that were not sure: whose attribute, and the value."""

    sort: str
    id: str
    attribute: str
    value: str

    def path(self) -> str:
        """Where it would be written."""
        section = {"room": "rooms.", "part": "parts.", "product": "products.", "step": "steps."}.get(self.sort, "")
        return f"{section}{self.id}.{self.attribute}"


class Unsure(Struct, frozen=True):
    """Words that were not written, with two or three ways to take them; none where only a question is left."""

    span: Span
    candidates: tuple[Candidate, ...]
    why: str = ""

    @property
    def asks(self) -> bool:
        """Whether its why is a question that stands by itself."""
        return self.why.endswith("?") and not self.why.startswith("or ")


class Board(Struct):
    """The draft while a text is heard."""

    vocabulary: Vocabulary
    things: dict[str, list[Thing]] = field(
        default_factory=lambda: {s: [] for s in ("house", "code", "room", "part", "product", "crew", "step", "budget")}
    )
    unsure: list[Unsure] = field(default_factory=list)
    heard: list[tuple[Span, str]] = field(default_factory=list)  # pieces that are facts of no thing, and what they are
    unknown: list[tuple[str, str, str, Span]] = field(
        default_factory=list
    )  # sort, id, attribute left unknown on purpose
    unchecked: list[str] = field(default_factory=list)  # steps of which it is not known what they are done to
    focus: list[Thing] = field(default_factory=list)  # what is talked about, the latest first
    room: Thing | None = None
    led_up: list[tuple[Thing, Thing]] = field(default_factory=list)  # what the work is for, and the last step before it
    purpose: list[str] = field(default_factory=list)  # what the whole work is done to
    last_to: list[str] = field(default_factory=list)
    last_at: int = 0  # the token of the verb that set it

    def single(self, sort: str) -> Thing:
        """House, crew or budget."""
        if not self.things[sort]:
            self.things[sort].append(Thing(sort, sort))
        return self.things[sort][0]

    @property
    def steps(self) -> list[Thing]:
        """The steps in order."""
        return self.things["step"]

    def named(self, own: str) -> Thing | None:
        """The thing of that id."""
        return next((t for s in ("part", "product", "room", "step") for t in self.things[s] if t.id == own), None)

    def talk_of(self, thing: Thing) -> None:
        """Put a thing on top of what is talked about; steps are done to things, and take none of their place."""
        if thing.sort == "step":
            return
        self.focus = [thing, *(one for one in self.focus if one is not thing)][:8]

    def add(
        self,
        sort: str,
        kind: str,
        words: str,
        span: Span,
        *,
        attribute: str = "kind",
        own: str = "",
        called: bool = False,
    ) -> Thing | None:
        """A new thing; None where there are too many."""
        if sum(map(len, self.things.values())) >= MOST_THINGS:
            return None
        thing = Thing(sort, own or self.free_id(words or kind, step=sort == "step"), words=words, called=called)
        thing.facts[attribute] = Fact(kind, [span])
        self.things[sort].append(thing)
        return thing

    def free_id(self, words: str, *, step: bool = False) -> str:
        """A name that nothing has yet; a step and a thing may bear the same."""
        stem = "-".join("".join(c if c.isalnum() else " " for c in words).split())[:40] or "thing"
        if fold(stem) in ("unknown", "none", "not known"):
            stem += "-1"
        taken = {t.id for sort, listed in self.things.items() if (sort == "step") == step for t in listed}
        return next(o for o in (stem, *(f"{stem}-{n}" for n in range(2, 1_000))) if o not in taken)

    def put(
        self, thing: Thing, attribute: str, value: str | list[str], span: Span, note: str = "", *, over: bool = False
    ) -> bool:
        """Write a fact. What was said before stays, unless it was taken back; then both are offered."""
        known = self.vocabulary.attributes[thing.sort].get(attribute)
        if known is None:
            return False
        old = thing.facts.get(attribute)
        if old is None and not over and any(u[:3] == (thing.sort, thing.id, attribute) for u in self.unknown):
            said = value[0] if isinstance(value, list) else value
            way = Candidate(thing.sort, thing.id, attribute, said)
            self.unsure.append(Unsure(span, (way,), "said not to be known"))
            return False
        if known.many:
            members = value if isinstance(value, list) else [value]
            if old is None or over:
                thing.facts[attribute] = Fact(list(dict.fromkeys(members)), [span], note)
                return True
            before = old.value if isinstance(old.value, list) else [old.value]
            old.value = list(dict.fromkeys([*before, *members]))
            old.spans.append(span)
            return True
        if isinstance(value, list):
            value = value[0]
        if old is not None and old.value != value and not over:
            if old.note == "inferred" or self._narrower(known.of, str(old.value), value):
                thing.facts[attribute] = Fact(value, [span], note)
                return True
            if self._narrower(known.of, value, str(old.value)):
                old.spans.append(span)
                return True
            first = Candidate(thing.sort, thing.id, attribute, str(old.value))
            self.unsure.append(Unsure(span, (first, Candidate(thing.sort, thing.id, attribute, value)), "said twice"))
            return False
        if old is not None and old.value == value:
            old.spans.append(span)
            return True
        thing.facts[attribute] = Fact(value, [span], note)
        return True

    def _narrower(self, taxonomy: str, wide: str, narrow: str) -> bool:
        known = self.vocabulary.taxonomies.get(taxonomy)
        return known is not None and wide in known.terms and narrow in known.below(wide) - {wide}

    @staticmethod
    def _same_age(thing: Thing, age: str) -> bool:
        """A new one is not the one that was spoken of before; an old one may be."""
        return not age or age == thing.age or (age == "old" and not thing.age)

    def find(self, sort: str, kind: str, words: str, age: str) -> Thing | None:
        """The thing that a name means: of that kind, or whose longer name ends so (*doors* after *cabinet doors*)."""
        taxonomy = self.vocabulary.taxonomies[f"{sort}_kind"]
        last = forms.singular(words.split()[-1]) if words else ""
        listed = sorted(self.things[sort], key=lambda t: -t.place)
        for thing in listed:
            if thing.kind == kind and self._same_age(thing, age):
                return thing
        for thing in listed:
            if not self._same_age(thing, age):
                continue
            mine = forms.singular(thing.words.split()[-1]) if thing.words else ""
            related = kind in taxonomy.above(thing.kind) or thing.kind in taxonomy.above(kind)
            if last and mine == last and (len(words.split()) == 1 or related or len(thing.words.split()) == 1):
                return thing
            if kind == "tile work" and thing.kind in taxonomy.below(kind) and age != "old":
                return thing
            if related and len(words.split()) == 1 and len(taxonomy.below(kind)) > 1 and kind not in _WIDE:
                return thing
        return None


_WIDE = frozenset(
    {
        "floor",
        "floor covering",
        "wall",
        "ceiling",
        "door",
        "window",
        "light",
        "hardware",
        "trim",
        "furniture",
        "cabinets",
        "shelf",
        "drain",
        "sink",
    }
)
