"""Work told by what it is done with, or by a noun: `go over it with a sander`, `give the doors a good cleaning`."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.language import verb_forms
from advisor.draft.lexicon import Lexicon, Sense
from advisor.draft.tokens import Token, folded

_REACH = 10  # words between such a verb and what it is done with
_GIVE = frozenset({"give", "gives", "giving", "gave", "given"})
_COARSE, _FINE = 24, 600  # grits that somebody goes over a thing with


class Worked:
    """Finds the verbs of a text that say what is done only by what stands further on."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        self.lexicon, self.tokens, self.language = lexicon, tokens, lexicon.language
        self.puts = self._forms(self.language.puts_on)
        self.forms = self._forms(self.language.goes_over) | self.puts
        self.longest = max(map(len, self.forms), default=0)
        self.first = {form[0] for form in self.forms}
        self.over = {form[0] for form in self._forms(self.language.tool_over["verbs"])}
        self.onto = {form[0]: how for form, how in self._forms(self.language.product_onto["verbs"]).items()}
        self.apart: dict[str, list[tuple[tuple[str, ...], frozenset[tuple[str, ...]], str, str]]] = {}
        for row in self.language.told_apart:
            last = frozenset(folded(one) for one in row["last"])
            for form, how in self._forms(row["first"]).items():
                self.apart.setdefault(form[0], []).append((form, last, row["do"], how))

    def _forms(self, spellings: list[str]) -> dict[tuple[str, ...], str]:
        """Each form of these verbs, with what it is."""
        found: dict[tuple[str, ...], str] = {}
        for phrase in map(folded, spellings):
            for form, how in verb_forms(self.language, phrase[0]):
                found.setdefault((form, *phrase[1:]), how)  # `cut` is to cut before it is what was cut
        return found

    def find(self, items: list[Item], start: int, stop: int) -> list[Item]:
        """The items of a sentence with these verbs, in their order."""
        found: list[Item] = []
        for place in range(start, stop):
            if found and found[-1].also and place <= found[-1].also[-1]:
                continue  # within the words of a verb
            if (item := self._verb(items, place, stop)) is not None:
                found.append(item)
        if not found:
            return items
        taken = {p for item in found for p in (*range(item.start, item.end), *item.also)}
        rest = [i for i in items if not taken & set(range(i.start, i.end))]
        return sorted([*rest, *found], key=lambda i: i.start)

    def _verb(self, items: list[Item], place: int, stop: int) -> Item | None:
        word = self.tokens[place].text
        if word in _GIVE:
            return self._given(place, stop)
        known = self._told_apart(place, stop) or self._tool_over(items, place, stop) or self._onto(items, place, stop)
        if known is not None or word not in self.first:
            return known
        for length in range(min(self.longest, stop - place), 0, -1):
            words = tuple(t.text for t in self.tokens[place : place + length])
            how = self.forms.get(words)
            if how is None:
                continue
            puts = words in self.puts
            action = (
                self._by_product(items, place + length, stop) if puts else self._by_what(items, place + length, stop)
            )
            sense = Sense("action", action, how)
            return Item(place, place + length, (sense,), verb=sense) if action else None
        return None

    def _told_apart(self, place: int, stop: int) -> Item | None:
        """`make sure the outlet is dead`, `test the ceiling for asbestos`: words of one verb."""
        for form, lasts, action, how in self.apart.get(self.tokens[place].text, ()):
            begin = place + len(form)
            if tuple(t.text for t in self.tokens[place:begin]) != form:
                continue
            for at in range(begin, self._end(begin, stop)):
                last = next((w for w in lasts if self._stands(w, at, stop)), None)
                if last is not None:
                    sense = Sense("action", action, how)
                    return Item(place, begin, (sense,), verb=sense, also=list(range(at, at + len(last))))
        return None

    def _stands(self, words: tuple[str, ...], place: int, stop: int) -> bool:
        """Whether words stand at a place, `really` and the like left out before the last of them."""
        for word in words:
            while (
                place < stop
                and self.tokens[place].text != word
                and self.language.has("adverbs", self.tokens[place].text)
            ):
                place += 1
            if place >= stop or self.tokens[place].text != word:
                return False
            place += 1
        return True

    def _tool_over(self, items: list[Item], place: int, stop: int) -> Item | None:
        """`run the sander over the floor`: what is done is told by the tool."""
        if self.tokens[place].text not in self.over:
            return None
        tool = next((i for i in items if place < i.start <= place + 4 and i.get("tool") and i.verb is None), None)
        if tool is None or any(i.verb is not None for i in items if place < i.start < tool.start) or tool.end >= stop:
            return None
        sense = tool.get("tool")
        does = self.language.tool_does.get(sense.name) if sense is not None else None
        if not does or self.tokens[tool.end].text not in self.language.tool_over["onto"]:
            return None
        verb = Sense("action", does[0], "base")
        return Item(place, place + 1, (verb,), verb=verb, also=[tool.end])

    def _onto(self, items: list[Item], place: int, stop: int) -> Item | None:
        """`slap some paint on the walls`, `rub oil into the top`: what is done is told by the product."""
        how = self.onto.get(self.tokens[place].text)
        if how is None or any(i.start == place and i.end > place + 1 and i.verb is not None for i in items):
            return None
        product = next((i for i in items if place < i.start <= place + 5 and i.get("product") and i.verb is None), None)
        if (
            product is None
            or product.end >= stop
            or self.tokens[product.end].text not in self.language.product_onto["onto"]
        ):
            return None
        if any(i.start < product.start and i.roles() & {"part", "tool"} for i in items if place < i.start):
            return None
        sense = product.get("product")
        action = self.lexicon.done_with(sense.name) if sense is not None else ""
        if not action:
            return None
        verb = Sense("action", action, how)
        return Item(place, place + 1, (verb,), verb=verb)

    def _end(self, place: int, stop: int) -> int:
        """Where what belongs to a verb ends: at a stop, at `then`, at the next reach."""
        for at in range(place, min(stop, place + _REACH)):
            if self.tokens[at].sort in ("mark", "break") or self.tokens[at].text in ("then", "but", "and", "before"):
                return at
        return min(stop, place + _REACH)

    def _by_what(self, items: list[Item], place: int, stop: int) -> str:
        """What is done with the tool or the grit behind `with`."""
        end = self._end(place, stop)
        at = next((p for p in range(place, end) if self.tokens[p].text in ("with", "using")), None)
        if at is None:
            return ""
        for item in items:
            if not at < item.start < end + 1:
                continue
            tool, product, amount = item.get("tool"), item.get("product"), item.amount
            if tool is not None and self.language.tool_does.get(tool.name):
                return self.language.tool_does[tool.name][0]
            if product is not None:
                return self.lexicon.done_with(product.name)
            if amount is not None and amount.sort == "number" and _COARSE <= amount.number <= _FINE:
                return "sand"
        return ""

    def _by_product(self, items: list[Item], place: int, stop: int) -> str:
        """What is done with the product that stands right behind: `brush on the stain`, `apply two coats of poly`."""
        end = self._end(place, stop)
        for item in items:
            if not place <= item.start < end or item.amount is not None:
                continue
            product = item.get("product")
            if product is not None and any(i.start == item.end and i.get("product") for i in items):
                continue  # `an oil stain`
            if product is None:
                if item.roles() & {"part", "tool", "room"}:
                    return ""
                continue
            return self.lexicon.done_with(product.name)
        return ""

    def _given(self, place: int, stop: int) -> Item | None:
        """`give the doors a light sanding`: what is done stands behind the thing."""
        for at in range(place + 1, self._end(place + 1, stop)):
            action = self.language.given.get(self.tokens[at].text)
            if action is None:
                continue
            first = next(
                (p for p in range(at - 1, max(place, at - 5), -1) if self.tokens[p].text in ("a", "another", "one")),
                None,
            )
            if first is not None:
                sense = Sense("action", action, "base")
                return Item(place, place + 1, (sense,), verb=sense, also=list(range(first, at + 1)))
        return None
