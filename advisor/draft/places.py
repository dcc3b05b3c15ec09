"""Whether a room that is named is where the work is, or only where somebody lives, something waits or serves."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.clauses import Clause
from advisor.draft.mentions import Mention
from advisor.draft.ones import Ones

_WITHIN = frozenset({"in", "at", "inside", "out", "on"})


class Places(Ones):
    """Tells rooms of the work from others."""

    def may_be_in(self, thing: Thing, room: Thing) -> bool:
        """Whether a part may be taken to stand in a room without a word of it: no tub stands in a kitchen."""
        usual = [own for own, kinds in self.language.inferred_rooms.items() if self.one_of(thing.kind, kinds)]
        never = [room.kind in self.language.not_found_in.get(own, ()) for own in usual]
        return thing.kind not in self.outer and not (never and all(never))

    def _aside(self, mention: Mention) -> bool:
        """`the panel by the shed`, `one of them is for the garage`: named to say where, no room of the work."""
        before = self.tokens[mention.start - 3 : mention.start] if mention.start > 2 else []
        for_it = mention.prep == "for" and any(t.text in ("is", "are", "was") for t in before)
        beside = mention.prep == "to" and any(t.text in ("next", "close", "adjacent") for t in before)
        taken = mention.prep == "off" and self._verb_before(mention) is not None  # `take the tile off the bathroom`
        return for_it or beside or (mention.prep in self.language.places["aside"] and not taken)

    def _verb_before(self, mention: Mention) -> str | None:
        verbs = [i.verb.name for i in self._items if i.verb is not None and i.end <= mention.start]
        return verbs[-1] if verbs else None

    def _dwelt_in(self, mention: Mention, clause: Clause) -> bool:
        """`my son sleeps in the basement`, `the dog stays in the laundry`: somebody lives there, nothing is done."""
        words = [t.text for t in self.tokens[clause.start : mention.start]]
        told = mention.prep in _WITHIN and self.language.places["dwells"].intersection(words)
        someone = any(self.language.has(group, word) for group in ("kids", "people") for word in words)
        pets = any(i.get("term", "animal") for i in self._items if clause.start <= i.start < mention.start)
        return bool(told) and (someone or pets or bool(self.language.places["sleeps"].intersection(words)))

    def _only_serves(self, mention: Mention) -> bool:
        """`the panel is in the garage`: it serves from there, and the work is elsewhere."""
        told = [m for m in self._mentions if m.sense.role == "part" and m.end <= mention.start]
        straight = bool(told) and mention.start - told[-1].end <= 4 and mention.prep in _WITHIN
        return straight and told[-1].sense.name in self._kinds_of("serves from afar") and not self._goes_in(mention)

    def _only_compared(self, mention: Mention, clause: Clause) -> bool:
        """`not the bathroom`, `same as in the kitchen`: the work is elsewhere."""
        before = [t.text for t in self.tokens[max(clause.start, mention.start - 4) : mention.start]]
        denied = clause.denied and mention.start >= clause.denied_from and not clause.unknown
        return denied or bool(self.language.places["compares"].intersection(before))

    def _leads_there(self, mention: Mention) -> bool:
        """`the duct goes to the attic`, `carried up from the basement`: something only leads or goes there."""
        verb = self._verb_before(mention)
        doors = [m for m in self._mentions if m.sense.name in self.below("part", "door")]
        if any(0 <= mention.start - m.end <= 3 for m in doors):
            return False  # `the door to the nursery`
        if mention.prep == "from":
            return verb is None or verb in self.board.vocabulary.taxonomies["action"].below("carry")
        return mention.prep in self.language.places["leads to"] and not self._goes_in(mention)

    def _goes_in(self, mention: Mention) -> bool:
        """Whether something is put in: what is worked on stands where that is told."""
        verb = self._verb_before(mention)
        taxonomy = self.board.vocabulary.taxonomies["action"]
        puts = verb is not None and any(verb in taxonomy.below(one) for one in ("install", "remove", "refinish"))
        return puts and verb not in taxonomy.below("move")

    def _done_elsewhere(self, mention: Mention, clause: Clause) -> bool:
        """`spray the doors in the garage`: loose things are taken there, and belong elsewhere."""
        verb, taxonomy = self._verb_before(mention), self.board.vocabulary.taxonomies["action"]
        works = verb is not None and any(
            verb in taxonomy.below(one) for one in self.language.places["done elsewhere"] if one in taxonomy.terms
        )
        if not works or mention.prep not in _WITHIN or mention.sense.name not in self._stores:
            return False
        told = [m.sense.name for m in self._mentions if m.sense.role == "part" and m.end <= mention.start]
        last = next((t.kind for t in self.board.focus if t.sort == "part"), None)
        kind = told[-1] if told else last
        return kind is not None and kind in self._kinds_of("taken elsewhere")
