"""Rewritings of single words and values: the same thing in another spelling, unit or form."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

import yaml
from rewriting import SECTIONS, SINGLE, WORDS, Plan, each, each_word, meant, members, operator, things, unknown

from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.vocabulary import SORTS, Attribute
from advisor.unit_table import DIMENSIONS, UNITS
from advisor.units import currency, from_base, read_quantity

Pick = random.Random
_ONE = {
    "temperature",
    "fraction",
    "moisture",
    "sound_level",
    "money",
    "number",
}  # dimensions of one unit, or of degrees


@operator
def aliases_of_attributes(plan: Plan, pick: Pick) -> Plan:
    """`made of: pine` for `material: pine`."""
    for sort, _, said in things(plan):
        for word in list(said):
            attribute, value = meant(sort, word), said.pop(word)
            names = [a for a in attribute.aliases if meant(sort, a) is attribute] if attribute else []
            said[pick.choice(names) if names else word] = value
    return plan


@operator
def aliases_of_words(plan: Plan, pick: Pick) -> Plan:
    """`countertop` for `worktop`, `drywall` for `gypsum board`, `seal joint` for `caulk`."""
    return each_word(plan, lambda attribute, text: _other_spelling(attribute, text, pick), "term")


def _other_spelling(attribute: Attribute, text: str, pick: Pick) -> str | None:
    taxonomy = WORDS.taxonomies[attribute.of]
    # `wiring: unknown` is a value left out, though the list of words has it as a spelling of `unknown wiring`
    aliases = [a for a in taxonomy.terms[taxonomy.find(text) or ""].aliases if not unknown(a)]
    return pick.choice(aliases) if aliases else None


@operator
def names_of_words(plan: Plan, pick: Pick) -> Plan:
    """The vocabulary's own word for the author's alias."""
    return each_word(plan, lambda attribute, text: WORDS.taxonomies[attribute.of].find(text), "term")


@operator
def letters_of_words(plan: Plan, pick: Pick) -> Plan:
    """`Base-Cabinets` and `BASE_CABINETS` for `base cabinets`; attributes too."""
    for sort, _, said in things(plan):
        for word in list(said):
            value = said.pop(word)
            said[word.upper().replace("_", " ") if meant(sort, word) else word] = value
    return each_word(plan, lambda _, text: pick.choice((text.upper(), text.title().replace(" ", "_"))), "term")


@operator
def lists_of_one(plan: Plan, pick: Pick) -> Plan:
    """`to: doors` and `to: [doors]`."""

    def change(attribute: Attribute, value: Any) -> Any:
        if not attribute.many or isinstance(value, dict):
            return None
        return value[0] if isinstance(value, list) and len(value) == 1 else None if isinstance(value, list) else [value]

    return each(plan, change)


@operator
def members_twice(plan: Plan, pick: Pick) -> Plan:
    """A thing that is named again in a list is no second thing."""
    return each(plan, lambda a, v: [*members(v), members(v)[0]] if a.many and a.type in ("term", "ref") and v else None)


@operator
def members_turned_round(plan: Plan, pick: Pick) -> Plan:
    """Lists of names and of words say no order."""
    return each(plan, lambda a, v: v[::-1] if isinstance(v, list) and a.type in ("term", "ref") else None)


@operator
def yes_and_no(plan: Plan, pick: Pick) -> Plan:
    """`true`, `on`, `Yes`."""
    spelled = {"yes": ("true", "on", "Yes", "TRUE"), "no": ("false", "off", "No", "FALSE")}
    return each_word(plan, lambda _, text: pick.choice(spelled.get(text.lower(), (text,))), "yes_no")


@operator
def unknown_said_outright(plan: Plan, pick: Pick) -> Plan:
    """`material: unknown` is leaving it out."""
    for sort, _, said in things(plan):
        left = [n for n in sorted(WORDS.attributes[sort]) if not any(meant(sort, w) is meant(sort, n) for w in said)]
        for name in pick.sample(left, min(3, len(left))):
            said[name] = pick.choice(("unknown", "?", "", "not known"))
    return plan


@operator
def unknown_left_out(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for _, _, said in things(plan):
        for word in [word for word, value in said.items() if unknown(value)]:
            del said[word]
    return plan


@operator
def notes(plan: Plan, pick: Pick) -> Plan:
    """A remark says nothing to the rules."""
    for _, _, said in things(plan):
        said.setdefault("note", "as agreed on the site: lead, gas, live wires")
    plan["title"], plan["units"] = "Another title", pick.choice(("us", "metric"))
    return plan


@operator
def other_units(plan: Plan, pick: Pick) -> Plan:
    """Metric and US, feet and inches, quarts and litres, Fahrenheit and Celsius."""
    each(plan, lambda a, v: _profile(v, pick) if a.type == "profile" and isinstance(v, dict) else None)
    return each_word(plan, lambda attribute, text: _in_units(attribute, text, pick), *DIMENSIONS)


def _in_units(attribute: Attribute, text: str, pick: Pick) -> str | None:
    dimension = attribute.type
    before = read_quantity(text, dimension).si
    money = {"money": currency(text)}.get(dimension)  # an amount keeps its own
    unit = pick.choice(sorted(u for u in UNITS[dimension] if not money or currency(u) == money))
    new = f"{from_base(before, unit, dimension):.12g} {unit}".strip()
    try:
        after = scalar_value(attribute, new, WORDS, lambda *_: "")
    except BadValueError:
        return None
    return new if abs(float(str(after)) - before) <= 1e-9 * abs(before) else None


def _profile(value: dict[str, Any], pick: Pick) -> dict[str, str]:
    def metric(text: str) -> str:
        return f"{from_base(read_quantity(text, 'length').si, 'mm', 'length'):.12g} mm"

    turned = list(value.items())[::-1]
    return {metric(str(place)): metric(str(measure)) for place, measure in turned}


@operator
def mixed_numbers(plan: Plan, pick: Pick) -> Plan:
    """`13 ft 6 in` is 13.5 ft, `1-1/4 in` is 1.25 in, `1 1/4 in` too."""

    def change(attribute: Attribute, text: str) -> str | None:
        number, _, unit = text.rpartition(" ")
        try:
            exact = Fraction(number.replace("-", "+")) if "/" not in number else _mixed(number)
            before, after = (read_quantity(t, attribute.type).si for t in (text, f"{float(exact):.9g} {unit}"))
        except ValueError:
            return None
        return f"{float(exact):.9g} {unit}" if before == after and "/" in number else None

    return each_word(plan, change, *(set(DIMENSIONS) - _ONE))


def _mixed(number: str) -> Fraction:
    whole, _, rest = number.replace(" ", "-").rpartition("-")
    return Fraction(rest) + (Fraction(whole) if whole else 0)


@operator
def counts_with_commas(plan: Plan, pick: Pick) -> Plan:
    """`1,200` and `+3`."""
    return each_word(plan, lambda _, text: f"{int(text):,}" if text.isdigit() and len(text) > 3 else None, "count")


@operator
def names(plan: Plan, pick: Pick) -> Any:
    """Ids are only names: others, and in the other alphabetical order."""
    from rewriting import Told

    new: dict[str, dict[str, str]] = {}
    for sort in ("room", "part", "product", "step"):
        own = sorted(name for s, name, _ in things(plan) if s == sort)
        new[sort] = {name: f"n {len(own) - n:03d} {sort}" for n, name in enumerate(own)}
        new[sort] |= {name.lower(): new[sort][name] for name in own}
    each_word(
        plan, lambda attribute, text: new[attribute.of].get(text.strip()) or new[attribute.of].get(text.lower()), "ref"
    )
    for section, sort in SECTIONS.items():
        if isinstance(plan.get(section), dict):
            plan[section] = {new[sort][own]: said for own, said in plan[section].items()}
    before = [step["id"] for step in plan["steps"]]
    for step in plan["steps"]:
        step["id"] = new["step"][step["id"]]
    return Told(plan, {new["step"][own]: own for own in before})


@operator
def ids_left_out(plan: Plan, pick: Pick) -> Any:
    """A step without an id gets one made up; only where no step names another."""
    from rewriting import Told, step_ids

    if any(meant("step", word) is WORDS.attribute("step", "after") for step in plan["steps"] for word in step):
        return None
    before = [step.pop("id") for step in plan["steps"]]
    return Told(plan, dict(zip(step_ids(plan), before, strict=True)))


@operator
def order_of_listing(plan: Plan, pick: Pick) -> Plan:
    """Sections, things and attributes in any order; steps keep theirs."""

    def mix(value: Any) -> Any:
        keys = list(value) if isinstance(value, dict) else []
        pick.shuffle(keys)
        return {key: mix(value[key]) for key in keys} if isinstance(value, dict) else value

    return {**mix(plan), "steps": [mix(step) for step in plan["steps"]]}


@operator
def sections_of_nothing(plan: Plan, pick: Pick) -> Plan:
    """An empty section is a missing one."""
    for section in (*SECTIONS, *(sort for sort in SORTS if sort in SINGLE)):
        plan.setdefault(section, {})
    return plan


@operator
def as_text(plan: Plan, pick: Pick) -> Any:
    """The plan as YAML text in place of a mapping; every scalar in quotes or none of them."""
    from rewriting import Told

    return Told(yaml.safe_dump(plan, sort_keys=False, allow_unicode=True, default_style=pick.choice(('"', None))))
