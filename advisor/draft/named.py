"""People by their names: `Theo cuts, I lay`, `my brother in law ray`. Found in all of a text before it is heard."""

from __future__ import annotations

from advisor.draft.language import Language
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

_LEAST = 3  # letters of a name


def names_of(text: str, tokens: list[Token], lexicon: Lexicon) -> set[str]:
    """Names with a capital letter whose bearers do something, and names behind what a person is, typed as they may."""
    return {
        token.text
        for place, token in enumerate(tokens)
        if _told_who(tokens, place, lexicon)
        or (
            may_be_name(token, lexicon)
            and not text[token.start : token.end].isupper()
            and _acts(tokens, place, lexicon)
        )
    }


def _told_who(tokens: list[Token], place: int, lexicon: Lexicon) -> bool:
    """`my nephew gus`: a strange word behind what a person is; one that ends as verbs do needs a verb behind it."""
    token, language = tokens[place], lexicon.language
    word = token.text
    if token.sort != "word" or len(word) < _LEAST or not word.isalpha() or listed(word, language):
        return False
    if word in lexicon.phrases or word in lexicon.sayings:
        return False
    behind = tokens[place + 1].text if place + 1 < len(tokens) else ""
    acts = any(s.role == "action" for s in lexicon.phrases.get(behind, {}).get((behind,), ())) or any(
        language.has(group, behind) for group in ("he or she", "tells of somebody")
    )
    if not (acts or token.capital or not word.endswith(("s", "ed", "ing"))):
        return False
    return any(_is_a_person(lexicon, tokens[begin:place]) for begin in range(max(0, place - 3), place))


def _is_a_person(lexicon: Lexicon, tokens: list[Token]) -> bool:
    words = tuple(token.text for token in tokens)
    rows = lexicon.phrases.get(words[0], {}).get(words, ())
    return any(s.role == "who" and s.name in ("helper", "child") for s in rows)


def may_be_name(token: Token, lexicon: Lexicon) -> bool:
    """Whether a word is written as a name and means nothing else."""
    if not token.capital or token.sort != "word" or len(token.text) < _LEAST:
        return False
    return token.text not in lexicon.phrases and not listed(token.text, lexicon.language)


def listed(word: str, language: Language) -> bool:
    """Whether a word stands in some list of ordinary words."""
    return any((word,) in group for group in language.words.values()) or word in language.ordinary


def _acts(tokens: list[Token], place: int, lexicon: Lexicon) -> bool:
    """`Theo cuts`, `Theo and I`, `Theo with his saw`; `me and Theo`."""
    behind = [t.text for t in tokens[place + 1 : place + 3]]
    if not behind:
        return False
    found = lexicon.at(tokens, place + 1, len(tokens))
    if found and any(s.role == "action" and s.of == "third" for s in found[1]):
        return True
    begins = not place or tokens[place - 1].sort in ("mark", "break")  # there any word has a capital
    if (behind[0],) in lexicon.language.words["helping"] or (behind[0] in turns("what people do") and not begins):
        return True
    together = len(behind) == 2 and behind[0] in ("and", "with") and behind[1] in turns("whose")
    if len(behind) == 2 and behind[0] == "and":
        who = lexicon.at(tokens, place + 2, len(tokens))
        together = together or (who is not None and any(s.role == "who" for s in who[1]))
    before = tokens[place - 1].text if place else ""
    return together or (before == "and" and place > 1 and tokens[place - 2].text in turns("whose"))
