"""The index of all phrases that are understood; it keeps every meaning of each."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct, field

from advisor.draft import forms
from advisor.draft.joined import add_headed, add_joined, add_made_of
from advisor.draft.language import VALUE, Language, Saying, load_language, verb_forms
from advisor.draft.sense import Sense as Sense
from advisor.draft.tokens import Token, folded
from advisor.rulebase.vocabulary import Attribute, Vocabulary

_KINDS = {"part_kind": "part", "product_kind": "product", "room_kind": "room", "tool": "tool", "who": "who"}
_PARTICLES = frozenset(["off", "out", "up", "down", "in", "on", "away", "back", "over", "apart", "together", "loose"])
MAX_GAP = 6  # words between a verb and its particle
Phrase = tuple[str, ...]


class Lexicon(Struct):
    """Phrases by first word, verbs with their particles, sayings by an anchor, questions of the advisor."""

    vocabulary: Vocabulary
    language: Language
    phrases: dict[str, dict[Phrase, tuple[Sense, ...]]] = field(default_factory=dict)
    gaps: dict[str, list[tuple[Phrase, str, str]]] = field(default_factory=dict)  # verb form: rest, action, form
    sayings: dict[str, list[Saying]] = field(default_factory=dict)  # by the first word that is no value
    bare: list[Saying] = field(default_factory=list)  # sayings that are nothing but a value
    _asks: dict[Phrase, list[tuple[Phrase, Phrase, Attribute]]] = field(default_factory=dict)
    exact: set[tuple[Phrase, str]] = field(default_factory=set)  # as the vocabulary spells it, with its sort
    longest: dict[str, int] = field(default_factory=dict)
    places: set[str] = field(default_factory=set)  # lists whose words say where the house stands, and only in a saying
    extras: dict[tuple[Phrase, str], tuple[tuple[str, str], ...]] = field(
        default_factory=dict
    )  # what a phrase says besides

    def add(self, phrase: Phrase, sense: Sense) -> None:
        """Keep a meaning of a phrase."""
        if not phrase:
            return
        rows = self.phrases.setdefault(phrase[0], {})
        known = rows.get(phrase, ())
        if sense not in known and not any(s[:2] == sense[:2] and s.role == "action" for s in known):
            rows[phrase] = (*known, sense)
            self.longest[phrase[0]] = max(len(phrase), self.longest.get(phrase[0], 0))

    def asks(self) -> dict[Phrase, list[tuple[Phrase, Phrase, Attribute]]]:
        """The questions of the vocabulary by their first words: what stands before and behind the name."""
        if not self._asks:
            for attributes in self.vocabulary.attributes.values():
                for attribute in attributes.values():
                    before, _, after = attribute.ask.partition("{{ id }}")
                    head = folded(before)
                    head = head[:-1] if head[-1:] == ("?",) else head
                    self._asks.setdefault(head[:3], []).append((head, folded(after), attribute))
        return self._asks

    def at(self, tokens: list[Token], place: int, stop: int) -> tuple[int, tuple[Sense, ...]] | None:
        """The longest phrase that begins at a place and ends before `stop`."""
        rows = self.phrases.get(tokens[place].text)
        if not rows:
            return None
        for length in range(min(self.longest[tokens[place].text], stop - place), 0, -1):
            words = tuple(token.text for token in tokens[place : place + length])
            if words in rows:
                return place + length, rows[words]
        return None

    def done_with(self, product: str) -> str:
        """What is done with a kind of product, or with the nearest that it is a kind of; empty where that is open."""
        kinds, done = self.vocabulary.taxonomies["product_kind"], self.language.of_product
        return next((done[kind] for kind in (product, *kinds.above(product)) if kind in done), "")


@lru_cache(maxsize=2)
def _shared(key: int) -> list[Lexicon]:
    return []


def lexicon(vocabulary: Vocabulary) -> Lexicon:
    """The index for a vocabulary; made once."""
    kept = _shared(id(vocabulary))
    if not kept or kept[0].vocabulary is not vocabulary:
        kept[:] = [_made(vocabulary, load_language())]
    return kept[0]


def _made(vocabulary: Vocabulary, language: Language) -> Lexicon:
    own = Lexicon(vocabulary, language)
    # Codes of countries are words of any sentence (`in`, `at`, `no`), so names alone are heard; some are things.
    places = {
        a.of for attributes in vocabulary.attributes.values() for a in attributes.values() if a.read_by == "place"
    }
    for name, taxonomy in vocabulary.taxonomies.items():
        if name in places:
            own.places.add(name)
            for term in taxonomy.terms.values():
                for spelling in term.aliases:
                    if not spelling.isupper() and folded(spelling) not in language.words["things before places"]:
                        own.add(folded(spelling), Sense("term", term.name, name))
            continue
        for term in taxonomy.terms.values():
            if term.name in taxonomy.groups:
                continue
            for spelling in (term.name, *term.aliases):
                phrase = folded(spelling)
                if name == "action":
                    _add_verb(own, phrase, language.instead.get(spelling, term.name))
                elif name in _KINDS and phrase in language.no_things:
                    continue
                elif name in _KINDS:
                    _add_noun(own, phrase, Sense(_KINDS[name], term.name))
                elif term.name not in ("none",):
                    _add_noun(own, phrase, Sense("term", term.name, name))
    add_headed(own)
    _add_instead(own)
    for role, listed in language.nouns.items():
        for name, spellings in listed.items():
            for spelling in spellings:
                sort, _, of = role.partition(" ")
                _add_noun(own, folded(spelling), Sense(sort, name, of), told=True)
    own.extras |= {(folded(name), "part"): tuple(said.items()) for name, said in language.also_says.items()}
    for name, spellings in language.actions.items():
        for spelling in spellings:
            _add_verb(own, folded(spelling), name)
    _add_again(own)
    add_joined(own)
    add_made_of(own)
    for sort, attributes in vocabulary.attributes.items():
        for attribute in attributes.values():
            for spelling in (attribute.name, *attribute.aliases):
                phrase = folded(spelling)
                does = any(s.role == "action" for s in own.phrases.get(phrase[0], {}).get(phrase[:1], ()))
                if len(phrase) == 1 and (language.has("little", phrase[0]) or language.has("adjectives", phrase[0])):
                    continue
                part = own.phrases.get(phrase[-1], {}).get(phrase[-1:], ())
                if len(phrase) > 1 and language.has("prepositions", phrase[0]) and any(s.role == "part" for s in part):
                    continue  # `in the wall` is where something is
                if not (does and phrase[1:2] and phrase[1] in ("after", "for", "in", "to", "by", "until")):
                    own.add(phrase, Sense("attr", attribute.name, sort))
    for saying in language.sayings:
        anchor = next((word for word in saying.words if word != VALUE), "")
        (own.sayings.setdefault(anchor, []) if anchor else own.bare).append(saying)
    return own


def _add_again(own: Lexicon) -> None:
    """`recaulk`, `re-grout`: a verb of one word with `re` before it does the same once more."""
    verbs = {
        (word, sense.name)
        for word, rows in own.phrases.items()
        for sense in rows.get((word,), ())
        if sense.role == "action" and sense.of == "base" and len(word) > 2
    }
    for word, action in sorted(verbs):
        if word.startswith("re") or (word,) in own.language.never or (action,) in own.language.never:
            continue
        for again in (("re" + word,), ("re", word)):
            if again not in own.phrases.get(again[0], {}):
                _add_verb(own, again, action) if len(again) == 1 else _add_dashed(own, word, action)


def _add_dashed(own: Lexicon, word: str, action: str) -> None:
    for form, how in verb_forms(own.language, word):
        own.add(("re", form), Sense("action", action, how))


def _add_instead(own: Lexicon) -> None:
    """Words that no list holds, where the vocabulary says what to write: `steam` is `remove wallpaper, by: steam`."""
    for word, entry in own.vocabulary.instead.items():
        phrase = folded(word)
        cells = dict(cell.split(": ", 1) for cell in entry.write.split(", ") if ": " in cell)
        cells = {name: value.strip("[]") for name, value in cells.items()}  # `with: [pry bar]`
        if cells and not entry.why:
            for name, role, taxonomy in (("do", "action", "action"), ("kind", "part", "part_kind")):
                known = own.phrases.get(phrase[0], {}).get(phrase, ())
                if role == "action" and any(s.role in ("part", "product", "tool") for s in known):
                    continue  # a name first of all
                if name in cells and (not entry.within or taxonomy in entry.within):
                    sense = own.vocabulary.taxonomies[taxonomy].said(cells.pop(name))
                    if sense is None:
                        continue
                    own.extras[phrase, role] = tuple(cells.items())
                    _add_verb(own, phrase, sense) if role == "action" else _add_noun(own, phrase, Sense(role, sense))
        elif entry.write and not entry.why and not cells:
            for taxonomy, role in _KINDS.items():
                term = own.vocabulary.taxonomies[taxonomy].said(entry.write)
                if term and entry.holds(taxonomy):
                    _add_noun(own, phrase, Sense(role, term))
            for taxonomy in ("material", "condition", "coating"):
                term = own.vocabulary.taxonomies[taxonomy].said(entry.write)
                if term and entry.holds(taxonomy):
                    _add_noun(own, phrase, Sense("term", term, taxonomy))


def _add_noun(own: Lexicon, phrase: Phrase, sense: Sense, *, told: bool = False) -> None:
    """Keep a name with its plural; `told` where `rules/language/` says what a word means that is vague elsewhere."""
    if phrase in own.language.not_nouns and sense.of not in ("test_result",):
        return
    if sense.of == "condition" and phrase in own.language.words["no condition"]:
        return
    if sense.role == "term" and phrase[1:2] == ("the",) and own.language.has("prepositions", phrase[0]):
        return  # `on the wall` is where something is, and the wall a part
    if len(phrase) == 1 and len(phrase[0]) == 1 and phrase[0].isalpha():
        return  # `a` is a class of extinguishers, and much else
    if len(phrase) == 1 and phrase[0] in own.vocabulary.grammar.get("vague", ()) and not told:
        return
    own.add(phrase, sense)
    own.exact.add((phrase, sense.role))
    if phrase and phrase[-1].isdigit() and len(phrase) > 2:
        own.add((*phrase, "s"), sense)  # 2x4s
    if phrase and phrase[-1].isalpha() and len(phrase[-1]) > 2:
        own.add((*phrase[:-1], forms.plural(phrase[-1])), sense)
        own.add((*phrase[:-1], forms.singular(phrase[-1])), sense)


def _add_verb(own: Lexicon, phrase: Phrase, action: str) -> None:
    if phrase in own.language.split or not phrase:
        return
    first = phrase[0]
    if (first.endswith("ing") and len(phrase) == 1) or first == "to":
        return  # the doing of a verb that stands in the list itself
    for form, how in verb_forms(own.language, first):
        gaps = action != "evacuate" and first not in ("go", "come", "sit")
        own.add((form, *phrase[1:]), Sense("action", action, how))
        if (
            len(phrase) > 1
            and (phrase[1] in _PARTICLES or phrase[1:] in (("with", "water"), ("for",)) or phrase[1:3] == ("to", "the"))
            and first not in ("power", "water", "gas", "breaker", "pilots", "pilot")
        ):
            if gaps:
                own.gaps.setdefault(form, []).append((phrase[1:], action, how))
            if len(phrase) > 2 and phrase[-1] not in _PARTICLES:  # turn off water: turn the water off
                for rest in (
                    (*phrase[2:], phrase[1]),
                    ("the", *phrase[2:], phrase[1]),
                    (phrase[1], "the", *phrase[2:]),
                ):
                    own.add((form, *rest), Sense("action", action, how))
        elif len(phrase) == 2:
            for article in ("the", "a", "an", "my", "our", "some"):
                own.add((form, article, phrase[1]), Sense("action", action, how))
        elif len(phrase) > 2 and phrase[1] in ("the", "a", "an"):
            own.add((form, *phrase[2:]), Sense("action", action, how))  # kill the breaker: kill breaker
    if len(phrase) == 2 and phrase[1] not in _PARTICLES and phrase[1].isalpha():
        for form, how in verb_forms(own.language, phrase[1])[2:]:  # skim coated, dry fitting
            own.add((first, form), Sense("action", action, how))
