"""People who are called by their names: `my brother in law ray`, `her fella mike`; typed small as often as not."""

from __future__ import annotations

from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token

_NAME_LEAST = 3


def names_of(lexicon: Lexicon, tokens: list[Token]) -> dict[str, str]:
    """Each name with what the person is, by the words before it where it is told first."""
    found: dict[str, str] = {}
    for place in range(1, len(tokens)):
        if not _may_be_a_name(lexicon, tokens, place):
            continue
        relation = next(
            (
                words
                for begin in range(max(0, place - 3), place)
                if _is_a_person(lexicon, words := _words(tokens, begin, place))
            ),
            None,
        )
        if relation is not None:
            found.setdefault(tokens[place].text, " ".join(relation))
    return found


def _words(tokens: list[Token], begin: int, end: int) -> tuple[str, ...]:
    return tuple(token.text for token in tokens[begin:end])


def _is_a_person(lexicon: Lexicon, words: tuple[str, ...]) -> bool:
    rows = lexicon.phrases.get(words[0], {}).get(words, ())
    return any(s.role == "who" and s.name in ("helper", "child") for s in rows)


def _may_be_a_name(lexicon: Lexicon, tokens: list[Token], place: int) -> bool:
    """A word that is none of the trade's and no ordinary one; one that ends as verbs do needs a verb behind it."""
    token, language = tokens[place], lexicon.language
    word = token.text
    if token.sort != "word" or len(word) < _NAME_LEAST or not word.isalpha() or word in language.ordinary:
        return False
    if word in lexicon.phrases or word in lexicon.sayings or any((word,) in group for group in language.words.values()):
        return False
    behind = tokens[place + 1].text if place + 1 < len(tokens) else ""
    told = (
        behind in lexicon.phrases and any(s.role == "action" for s in lexicon.phrases[behind].get((behind,), ()))
    ) or any(language.has(group, behind) for group in ("he or she", "tells of somebody"))
    return told or token.capital or not word.endswith(("s", "ed", "ing"))
