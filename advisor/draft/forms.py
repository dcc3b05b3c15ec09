"""Forms of a word: plurals, and what a verb becomes. Made from the vocabulary, so nothing is downloaded."""

from __future__ import annotations

_VOWELS = "aeiou"


def plural(word: str) -> str:
    """More than one of it."""
    if word.endswith("y") and word[-2:-1] not in _VOWELS:
        return word[:-1] + "ies"
    if word.endswith("shelf"):
        return word[:-1] + "ves"
    return word + ("es" if word.endswith(("s", "x", "z", "ch", "sh")) else "s")


def singular(word: str) -> str:
    """One of it; the word itself where it is one."""
    if word.endswith("shelves"):
        return word[:-3] + "f"
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3:
        return word[:-1]
    return word


def _doubles(word: str) -> bool:
    """Whether the last letter is doubled before -ing: cut, stir, but not paint, sweep or cover."""
    if len(word) < 3 or word[-1] in _VOWELS + "wxy" or word[-2] not in _VOWELS or word[-3] in _VOWELS:
        return False
    return sum(letter in _VOWELS for letter in word) == 1


def gerund(word: str) -> str:
    """The doing of it."""
    if word.endswith("ie"):
        return word[:-2] + "ying"
    if word.endswith("e") and not word.endswith(("ee", "oe")):
        return word[:-1] + "ing"
    return word + (word[-1] if _doubles(word) else "") + "ing"


def past(word: str) -> str:
    """The regular past."""
    if word.endswith("e"):
        return word + "d"
    if word.endswith("y") and word[-2:-1] not in _VOWELS:
        return word[:-1] + "ied"
    return word + (word[-1] if _doubles(word) else "") + "ed"


def third(word: str) -> str:
    """What he or she does."""
    return f"{word}es" if word.endswith("o") else plural(word)
