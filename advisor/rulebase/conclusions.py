"""Reading the conclusions of a rule: what it deduces and what it says."""

from __future__ import annotations

from advisor.document import Node
from advisor.errors import allowed, clip, did_you_mean
from advisor.rulebase.harm import read_harm, word_of
from advisor.rulebase.keys import CONCLUSION_KEYS
from advisor.rulebase.model import CONTROLS, FINDING_KINDS, PLACEHOLDER, SIGNALS, Advice, Conclusion, Goal, Operand, Var
from advisor.rulebase.scope import Scope
from advisor.rulebase.states import read_goals

_FORMS = ("use", "add", "set", "own")


def read_conclusions(body: Node, scope: Scope) -> tuple[Conclusion, ...]:
    """All conclusions of a rule, in the order of its keys."""
    found: list[Conclusion] = []
    for word, (key, node) in body.pairs.items():
        nodes = node.items if node.kind == "sequence" else [node]
        if word == "deduce":
            for one in nodes:
                found.extend(_read_deduce(one, scope))
        elif word in FINDING_KINDS:
            found.extend(_read_finding(word, key, one, scope) for one in nodes)
    return tuple(found)


def _read_deduce(node: Node, scope: Scope) -> list[Conclusion]:
    found = []
    for word, (key, body) in node.pairs.items():
        kind = scope.kinds.get(word)
        if kind is None or not kind.deduced:
            known = [k.name for k in scope.kinds.values() if k.deduced]
            scope.say(
                key,
                f"cannot deduce '{clip(word)}': it is not declared under 'kinds'.{did_you_mean(word, known)}"
                " 'advisor rules kinds' lists those that are.",
            )
            continue
        values = []
        for name, (at, value) in body.pairs.items():
            if name not in kind.attributes:
                scope.say(at, f"'{clip(word)}' has no attribute '{clip(name)}'.{scope.attributes(name, kind)}")
                continue
            values.append((name, scope.operand(value, kind.attributes[name])))
        for name in sorted(set(kind.attributes) - set(body.pairs)):
            scope.say(key, f"'{clip(word)}' needs its attribute '{clip(name)}'.")
        found.append(Conclusion("deduce", key.line, deduced=word, values=tuple(sorted(values))))
    return found


def _read_finding(kind: str, key: Node, body: Node, scope: Scope) -> Conclusion:
    def text(name: str) -> str:
        node = body.get(name)
        return " ".join(node.text.split()) if node else ""

    def step(name: str) -> Var | None:
        node = body.get(name)
        return scope.variable(node, node.text, "ref:step") if node else None

    for name, (at, _) in body.pairs.items():
        if name not in CONCLUSION_KEYS[kind]:
            scope.say(at, f"'{kind}' has no '{clip(name)}'.{allowed(name, CONCLUSION_KEYS[kind])}")
    harm, word = read_harm(body.get("harm"), scope), text("signal")
    if not (body.get("harm") or word) or (word and word not in SIGNALS):
        scope.say(key, f"'{kind}' needs 'harm', or a signal: {', '.join(SIGNALS)}.")
    for name in ("what", "because"):
        if not text(name):
            scope.say(key, f"'{kind}' needs '{name}'.")
        _check_template(body.get(name), scope)
    if kind == "refer" and not text("to"):
        scope.say(key, "'refer' needs 'to': the trade to call.")
    if kind == "precede" and not (body.get("first") and body.get("then")):
        scope.say(key, "'precede' needs 'first' and 'then'.")
    duration = body.get("for")
    if kind == "wait" and not (duration and body.get("after")):
        scope.say(key, "'wait' needs 'after' and 'for'.")
    target = {"warn": "at", "need": "at", "precede": "then"}.get(kind, "before")
    goals = read_goals(body.get("state"), scope)
    never = read_goals(body.get("not"), scope)
    if kind == "need" and not (step("at") and (goals or never)):
        scope.say(key, "'need' needs 'at': a step, and 'state' or 'not': what must be so, or must not.")
    advice = _read_advice(body.get("advise"), scope)
    if kind == "need":
        advice = (*_read_how(body, (goals or never), scope), *advice)
    return Conclusion(
        "require" if kind == "need" else kind,
        key.line,
        signal=(word_of(harm, scope.harms) if harm else word if word in SIGNALS else "") or "notice",
        harm=harm,
        word=word,
        step=step(target),
        first=step("first") if kind == "precede" else step("after") if kind == "wait" else None,
        duration=scope.operand(duration, "time") if duration and kind == "wait" else None,
        to=text("to"),
        what=text("what"),
        because=text("because"),
        guess=_read_guess(body.get("guess"), scope),
        controls=_read_controls(body.get("controls"), scope),
        advice=advice,
        ways=_read_ways(body.get("ways"), scope),
        per=_read_names(body.get("per"), scope),
        numbers=_read_names(body.get("numbers"), scope),
        goals=goals,
        never=never,
        unless=read_goals(body.get("unless"), scope),
    )


def _read_how(body: Node, goals: tuple[Goal, ...], scope: Scope) -> tuple[Advice, ...]:
    """The steps that bring what is needed, in order: whole steps, or actions done to the first state's thing."""
    node, at = body.get("how"), body.get("at")
    if node is None or at is None:
        return ()
    place = ("before", Var(at.text[1:]))
    found = []
    kind = scope.kinds["step"]
    for one in node.items if node.kind == "sequence" else [node]:
        values: list[tuple[str, Operand]] = []
        if one.kind == "scalar":
            values.append(("do", scope.operand(one, kind.attributes["do"])))
            of = goals[0].of if goals else None
            if of is not None and scope.types.get(of.name) in ("ref:part", "ref:room"):
                values.append(("to" if scope.types[of.name] == "ref:part" else "in", of))
        for name, (key, value) in one.pairs.items():
            if name not in kind.attributes:
                scope.say(key, f"'step' has no attribute '{clip(name)}'.{scope.attributes(name, kind)}")
                continue
            for word in value.items if value.kind == "sequence" else [value]:
                values.append((name, scope.operand(word, kind.attributes[name])))
        found.append(Advice("add", tuple(values), place))
    return tuple(found)


def _read_guess(node: Node | None, scope: Scope) -> tuple[tuple[str, ...], str] | None:
    """`guess: {of: [carrier], because: …}`: the reason where one of these attributes is presumed or not known."""
    if node is None:
        return None
    of, because = node.get("of"), node.get("because")
    if of is None or because is None or set(node.pairs) - {"of", "because"}:
        scope.say(node, "'guess' needs 'of', the attributes that are guessed at, and 'because'.")
        return None
    _check_template(because, scope)
    names = [one.text for one in (of.items if of.kind == "sequence" else [of])]
    known = {name for listed in scope.vocabulary.attributes.values() for name in listed}
    for name in names:
        if name not in known:
            scope.say(of, f"no attribute is named '{clip(name)}'.{did_you_mean(name, known)}")
    return tuple(names), " ".join(because.text.split())


def _check_template(node: Node | None, scope: Scope) -> None:
    if node is None:
        return
    for name in PLACEHOLDER.findall(node.text):
        if name not in scope.types:
            scope.say(
                node,
                f"the text names '{{{{ {clip(name)} }}}}', which is not bound.{allowed(name, scope.types)}",
            )
        scope.used.add(name)
    if "{{" in PLACEHOLDER.sub("", node.text) or "{%" in node.text:
        scope.say(node, "the text may only hold '{{ name }}' of a bound variable.")


def _by_control(node: Node | None, scope: Scope) -> list[tuple[str, Node]]:
    """What stands under each level of the hierarchy of controls, best level first."""
    found = []
    for word, (key, value) in node.pairs.items() if node else ():
        if word in CONTROLS:
            found.append((word, value))
        else:
            scope.say(key, f"unknown control '{clip(word)}'. Expected one of: {', '.join(CONTROLS)}.")
    return sorted(found, key=lambda c: CONTROLS.index(c[0]))


def _read_controls(node: Node | None, scope: Scope) -> tuple[tuple[str, str], ...]:
    found = []
    for word, value in _by_control(node, scope):
        for one in value.items if value.kind == "sequence" else [value]:
            _check_template(one, scope)
            found.append((word, " ".join(one.text.split())))
    return tuple(found)


def _read_names(node: Node | None, scope: Scope) -> tuple[str, ...] | None:
    if node is None:
        return None
    nodes = [node] if node.kind == "scalar" else node.items
    return tuple(scope.variable(one, one.text).name for one in nodes)


def _read_advice(node: Node | None, scope: Scope) -> tuple[Advice, ...]:
    if node is None:
        return ()
    found = []
    for one in node.items if node.kind == "sequence" else [node]:
        forms = [word for word in one.pairs if word in _FORMS]
        if len(forms) != 1:
            scope.say(one, f"an advised change is one of: {', '.join(_FORMS)}.")
            continue
        found.append(_read_change(forms[0], one, scope))
    return tuple(found)


def _read_ways(node: Node | None, scope: Scope) -> tuple[tuple[str, tuple[Advice, ...]], ...]:
    """Advice by level of the hierarchy of controls, best level first."""
    return tuple((word, _read_advice(value, scope)) for word, value in _by_control(node, scope))


def _read_change(form: str, node: Node, scope: Scope) -> Advice:
    place = None
    for word in ("before", "after", "at"):
        at = node.get(word)
        if at:
            place = (word, scope.variable(at, at.text, "ref:step"))
    body = node.pairs[form][1]
    if form == "own":
        gear = [scope.operand(n, "term:tool") for n in (body.items if body.kind == "sequence" else [body])]
        return Advice(form, tuple(("owns", g) for g in gear), None)
    if form in ("use", "add") and place is None:
        scope.say(node, f"advised '{form}' needs its place: 'at', 'before' or 'after' a step.")
    values: list[tuple[str, Operand]] = []
    sort = {"use": "product", "add": "step"}.get(form, "")
    if form == "set":
        sort = next((s for s in ("step", "part", "product", "room", "house", "crew") if s in body.pairs), "")
        if not sort:
            scope.say(node, "advised 'set' needs whose attribute: 'set: {step: $step, faces: all}'.")
            return Advice(form, (), place)
    kind = scope.kinds[sort]
    for name, (key, value) in body.pairs.items():
        if form == "set" and name == sort:
            values.append((sort, scope.operand(value, f"ref:{sort}")))
        elif name not in kind.attributes:
            scope.say(key, f"'{sort}' has no attribute '{clip(name)}'.{scope.attributes(name, kind)}")
        else:
            for one in value.items if value.kind == "sequence" else [value]:
                values.append((name, scope.operand(one, kind.attributes[name])))
    return Advice(form, tuple(values), place)
