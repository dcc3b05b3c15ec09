"""Which thing is meant where the words only point at one or name none: each is scored, the next best are kept."""

from __future__ import annotations

from collections import Counter

from advisor.draft.board import MOST_CANDIDATES, Thing
from advisor.draft.items import Item
from advisor.draft.kept import _BODY, Kept

_LAST, _FIRST, _FALLS, _LEAST, _FORGOTTEN = 1.5, 1.3, 0.2, 0.35, 0.3
_REMEMBERED = 12  # parts that may be meant though others are talked about
_NEAR = 1.4  # how far below the best one a thing is still offered


class Choosing(Kept):
    """Chooses among the things that are talked about."""

    def inherited(self, action: str = "", at: int = -1) -> tuple[list[str], list[str]]:
        """What is worked on where the words do not say, and what else it may be."""
        ranked = self.ranked(action, at=at)
        if self.body is not None and (not ranked or self._of_the_body(action, ranked[0][1])):
            name, material, room, place = self.body
            part = self.board.add("part", _BODY[name], name, place)
            if part is not None:
                self.board.put(part, "material", material, place)
                self.board.put(part, "room", room.id, place)
                return [part.id], []
        return self._best(ranked)

    def _of_the_body(self, action: str, best: list[str]) -> bool:
        """`the wall is brick … drill holes`: done to the wall of which only the material was told."""
        kind = _BODY[self.body[0]] if self.body is not None else ""
        if not action or any(t.kind in self.below("part", kind) for t in self.board.things["part"]):
            return False
        fits = [self.likely.score(action, t.kind) for own in best if (t := self.board.named(own)) is not None]
        return self.likely.score(action, kind) > max(fits, default=0.0)

    def _best(self, ranked: list[tuple[float, list[str]]]) -> tuple[list[str], list[str]]:
        if not ranked:
            return [], []
        best, own = ranked[0]
        near = [one for score, listed in ranked[1:] if best - score < _NEAR for one in listed if one not in own]
        others = list(dict.fromkeys(near))[:MOST_CANDIDATES]
        return (own, others) if best >= _LEAST else ([], list(dict.fromkeys([*own, *others]))[:MOST_CANDIDATES])

    def ranked(self, action: str, *, pointed: bool = False, at: int = -1) -> list[tuple[float, list[str]]]:
        """The things that may be meant, the likeliest first: by when they were spoken of, by what is done, by age."""
        scored: list[tuple[float, int, list[str]]] = []
        self._kinds = Counter(t.kind for t in self.board.things["part"])
        last = [t for own in self.board.last_to if (t := self.board.named(own)) is not None]
        if last:
            later = pointed and self._spoken_of_since(last)
            base = _LAST - (0.5 if later else 0.0)
            scored.append((base + min(self._fit(action, t) + self._topic(t) for t in last), 0, [t.id for t in last]))
        nearness = _FIRST
        for thing in self.board.focus:
            if thing.sort != "part":
                continue
            if [thing.id] != self.board.last_to:
                less = 0.7 if self.only_accessories([thing.id]) else 0.0
                scored.append(
                    (nearness - less + self._fit(action, thing) + self._topic(thing), len(scored) + 1, [thing.id])
                )
            nearness -= _FALLS
        known = {own for _, _, listed in scored for own in listed}
        for thing in sorted(self.board.things["part"], key=lambda t: -t.place)[:_REMEMBERED]:
            if thing.id not in known:
                less = 0.7 if self.only_accessories([thing.id]) else 0.0
                scored.append(
                    (_FORGOTTEN - less + self._fit(action, thing) + self._topic(thing), len(scored) + 1, [thing.id])
                )
        if at >= 0:  # what is only told further on is not what is meant
            scored = [(s - (1.5 if all(self._later(o, at) for o in own) else 0.0), n, own) for s, n, own in scored]
        scored.sort(key=lambda row: (-row[0], row[1]))
        return [(score, own) for score, _, own in scored]

    def _spoken_of_since(self, last: list[Thing]) -> bool:
        """Whether another part was named after the last work."""
        part = next((t for t in self.board.focus if t.sort == "part"), None)
        if part is None or part in last or self.only_accessories([part.id]):
            return False
        return part.place > max([self.board.last_at, *(t.place for t in last)])

    def _later(self, own: str, at: int) -> bool:
        thing = self.board.named(own)
        return thing is not None and thing.born > at

    def main(self, action: str = "") -> list[str]:
        """What a text is about: the purpose of the work, or the first part that is more than hardware."""
        first = next((t.id for t in self.board.things["part"] if not self.only_accessories([t.id])), None)
        own = list(self.board.purpose) or ([first] if first else [])
        kinds = {t.kind for one in own if (t := self.board.named(one)) is not None}
        new = [t.id for t in self.board.things["part"] if t.kind in kinds and t.age == "new"]
        puts = self.board.vocabulary.taxonomies["action"].below("install") | {"connect"}
        return new if new and action in puts - {"replace"} else own  # `set the new vanity, reconnect everything`

    def _topic(self, thing: Thing) -> float:
        """How much the text is about a thing: the purpose of the work counts for more than what was moved for it."""
        if self.board.purpose:
            return 0.5 if thing.id in self.board.purpose else 0.0
        first = next((t for t in self.board.things["part"] if not self.only_accessories([t.id])), None)
        return (0.6 if self.notes else 0.2) if thing is first else 0.0

    def _fit(self, action: str, thing: Thing) -> float:
        """How well what is done goes with a thing: with its kind, and with whether it is old or new."""
        if not action:
            return 0.0
        score = self.likely.score(action, thing.kind)
        if (
            score < 0
            and thing.id in self.board.last_to
            and self.likely.told_so(action, thing.kind, self._told_of(thing))
        ):
            score = 0.0
        score -= 1.5 if thing.covered else 0.0
        taxonomy = self.board.vocabulary.taxonomies["action"]
        out = any(action in taxonomy.below(one) for one in ("remove", "disconnect", "demolish", "drain"))
        put_in = action in taxonomy.below("install")
        if thing.removed and self.board.purpose and thing.id not in self.board.purpose and not out:
            score -= 0.5  # the trim was only taken off for the floor
        if thing.removed and action in self._patches and thing.kind not in self._surfaces:
            score -= 0.9  # `take off the ledger, patch the holes`
        if thing.gone and not out and action not in ("scrape", "dispose", "cut"):
            score -= 1.0  # `the carpet comes off, then fill the holes`
        twin = self._kinds[thing.kind] > 1
        if twin and out != put_in:
            score += 0.6 if (thing.age == "new") == put_in else -0.6
        elif out and not put_in and thing.age == "new":
            score -= 0.6
        return score

    def _told_of(self, thing: Thing) -> list[str]:
        """What the words themselves say is done to a thing."""
        steps = [s for s in self.board.steps if thing.id in s.members("to")]
        return [s.kind for s in steps if s.facts["to"].note != "inferred"]

    def only_accessories(self, to: list[str]) -> bool:
        """Whether all of it is named in passing, as hinges or a hose: the talk stays with what they belong to."""
        return all((thing := self.board.named(own)) is not None and thing.kind in self._accessories for own in to)

    def pronoun(self, item: Item, stop: int, *, right: bool = False) -> list[str]:
        """`sand them`: the parts that were last worked on or spoken of, and fit what is done."""
        reach = [t.text for t in self.tokens[item.end : min(stop, item.end + 3)]]
        if item.also:
            reach = [t.text for t in self.tokens[item.end : item.also[0]]]
        before = self._words_before(item)
        heard = reach[:1] and (
            self.language.has("pronouns", reach[0])
            or (len(reach) > 1 and reach[0] in ("all", "both") and self.language.has("pronouns", reach[1]))
        )
        if right and not heard:
            return []
        if not heard and not any(word in ("they", "it", "theyre", "theyll", "itll", "those") for word in before):
            return []
        words = set(reach[:2] if heard else before)
        several = bool(words & {"them", "those", "these", "they", "theyre", "theyll", "both", "all"})
        ranked = self.ranked(item.verb.name if item.verb else "", pointed=True, at=item.start)
        if heard and not several and len(self.board.last_to) == 1:  # `steam it and scrape it`
            ranked = [(s + (0.5 if o == self.board.last_to and self._it_again(item) else 0.0), o) for s, o in ranked]
        ranked = [(score + self._pointed_at(own, item.start, several=several), own) for score, own in ranked]
        own, self.others = self._best(sorted(ranked, key=lambda row: -row[0]))
        return own

    def _it_again(self, item: Item) -> bool:
        """Whether the same word pointed at what was worked on a few words before."""
        near = [t.text for t in self.tokens[max(0, item.start - 6) : item.start]]
        return "it" in near and "." not in near

    def _words_before(self, item: Item) -> list[str]:
        words: list[str] = []
        for place in range(item.start - 1, max(-1, item.start - 4), -1):
            if self.tokens[place].sort in ("mark", "break"):
                break
            words.insert(0, self.tokens[place].text)
        return words

    def _pointed_at(self, own: list[str], place: int, *, several: bool) -> float:
        """What a pronoun points at: things told of a few words before it, one or several as it says."""
        things = [t for one in own if (t := self.board.named(one)) is not None]
        near = any(place - 15 <= t.place < place and self._same_sentence(t.place, place) for t in things)
        told = [t.id for t in things] == [self.subject.id] if self.subject is not None and not several else False
        plural = len(things) > 1 or any(t.words.endswith("s") and not t.words.endswith("ss") for t in things)
        return (0.6 if near else 0.0) + (1.0 if told and near else 0.0) + (0.3 if plural == several else -0.3)

    def _same_sentence(self, first: int, second: int) -> bool:
        return all(t.text not in (".", ";", "!", "?") and t.sort != "break" for t in self.tokens[first:second])
