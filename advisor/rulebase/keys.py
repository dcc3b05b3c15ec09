"""The keys of packs, rules and conclusions and what each is for. The reader takes these; DEVELOPERS.md shows them."""

from __future__ import annotations

from advisor.rulebase.model import FINDING_KINDS

PACK_KEYS = {
    "pack": "the name of the pack; several files may have one",
    "title": "what readers see as its name",
    "place": "the country, or country and region, in which its rules hold; elsewhere they are silent",
    "unless_done_by": "the trade that this pack has nothing to tell",
    "kinds": "kinds of fact that its rules deduce: attributes with types, and `meaning`",
    "rules": "its rules",
    "retire": "packs of one's own: `{rule, reason}`, a rule that is not to speak",
}
# In the order in which they are written.
RULE_KEYS = {
    "id": "its name for life: lower case, with hyphens",
    "title": "the practice in one line, as it should be",
    "replace": "packs of one's own: `{reason: …}`, in the place of the rule of that id",
    "unless_done_by": "the trade that it has nothing to tell; `nobody` takes the pack's word back",
    "when": "conditions, all of which hold",
    "deduce": "`{kind: {attribute: $x}}`, a fact for other rules",
    **dict.fromkeys(FINDING_KINDS, "a conclusion, see below"),
    "sources": "`{key, at}` of `rules/sources.yaml`, or `{common_practice: yes}`",
    "false_alarm": "what looks alike but is fine",
    "serves": "rows of `rules/coverage.yaml`; built-in packs only",
    "rests_on": "`physics`, `practice`, `law`, or a list of them",
    "law": "`{country: US, edition: irc-2021}`, with `rests_on: law`",
}
KIND_MEANS = {
    "warn": "something at a step is wrong",
    "require": "something has to be done or so before a step",
    "need": "a state has to be so at a step, whatever brings it",
    "refer": "a step belongs to a trade",
    "precede": "of two steps one comes first",
    "wait": "so long after one step, before another",
}
# What every conclusion may say, and what those may that ask for something to be done.
_ALL = {
    "harm": "`{what, how_sure}` of `rules/harm.yaml`; the signal word follows",
    "signal": "the word itself: old packs of one's own; lint asks for `harm`",
    "what": "what to do, in one to three short sentences",
    "because": "what happens otherwise",
    "advise": "the advice as changes of the plan: `use`, `add`, `set` or `own`",
    "per": "variables that make separate findings",
    "numbers": "results that are shown; all of them where it is left out",
}
_ASKS = {
    "controls": "more advice by level: `eliminate`, `substitute`, `engineer`, `administer`, `protect`",
    "ways": "other changes of the plan, by the same levels",
}
_GUESS = {"guess": "`{of: [attributes], because: …}`, the reason told where one of them is only presumed"}
CONCLUSION_KEYS: dict[str, dict[str, str]] = {
    "warn": {"at": "the step that it speaks at", **_ALL, **_ASKS, **_GUESS},
    "require": {"before": "the step that waits for it", **_ALL, **_ASKS, **_GUESS},
    "need": {
        "at": "the step that needs it",
        "state": "what must be so, any of them: `{power of $part: dead}` (`rules/site/states.yaml`)",
        "not": "what must not be so",
        "unless": "states in which it is another rule's matter",
        "how": "steps that bring it, in order",
        **_ALL,
        **_ASKS,
    },
    "refer": {"before": "the step that belongs to the trade", "to": "the trade to call", **_ALL, **_ASKS, **_GUESS},
    "precede": {"first": "the step that comes first", "then": "the step that comes after", **_ALL},
    "wait": {
        "after": "the step after which the time runs",
        "before": "the step that waits",
        "for": "how long",
        **_ALL,
    },
}
NEEDED: dict[str, tuple[str, ...]] = {
    "warn": ("harm", "what", "because"),
    "require": ("harm", "what", "because"),
    "need": ("at", "harm", "what", "because"),  # and `state` or `not`
    "refer": ("to", "harm", "what", "because"),
    "precede": ("first", "then", "harm", "what", "because"),
    "wait": ("after", "for", "harm", "what", "because"),
}


def tables() -> str:
    """The keys as Markdown: those of a pack, of a rule, and of each conclusion (`●` needed, `○` may stand)."""
    kinds = list(CONCLUSION_KEYS)
    found = ["**A pack** has", "", *(f"- `{key}`: {means}" for key, means in PACK_KEYS.items())]
    found += ["", "**A rule** has, in this order,", ""]
    found += [f"- `{key}`: {means}" for key, means in RULE_KEYS.items() if key not in kinds]
    found += ["", "**A conclusion** is one of", ""]
    found += [f"- `{kind}`: {KIND_MEANS[kind]}" for kind in kinds]
    found += ["", f"| key | {' | '.join(kinds)} | what it says |", f"| --- |{' :-: |' * len(kinds)} --- |"]
    for key in dict.fromkeys(key for keys in CONCLUSION_KEYS.values() for key in keys):
        marks = ["" if key not in CONCLUSION_KEYS[k] else "●" if key in NEEDED[k] else "○" for k in kinds]
        told: dict[str, list[str]] = {}
        for kind in kinds:
            if key in CONCLUSION_KEYS[kind]:
                told.setdefault(CONCLUSION_KEYS[kind][key], []).append(kind)
        said = "; ".join(means if len(told) == 1 else f"{', '.join(of)}: {means}" for means, of in told.items())
        found.append(f"| `{key}` | {' | '.join(marks)} | {said} |")
    return "\n".join(found)
