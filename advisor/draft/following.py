"""What follows from the steps of a text: with what they are done, and what stays in the house."""

from __future__ import annotations

from advisor.draft.board import MOST_CANDIDATES, Candidate, Thing, Unsure
from advisor.draft.doers import Doers


class Following(Doers):
    """Writes what cannot be otherwise, marked as inferred, and offers what is likely."""

    def _stays(self) -> None:
        """What is painted, regrouted or put back last of all stays in the house; of what is new nobody asks."""
        actions = self.board.vocabulary.taxonomies["action"]
        keeps = {a for one in self.language.stays_after for a in actions.below(one)}
        brings = actions.below("install") - actions.below("reinstall")
        takes = actions.below("remove") - actions.below("install")
        for thing in self.board.things["part"]:
            done = [s.kind for s in self.board.steps if thing.id in s.members("to") and "done" not in s.facts]
            told = [s for s in self.board.steps if thing.id in s.members("to") and s.facts["to"].note != "inferred"]
            kept = bool(told) and bool(done) and done[-1] in keeps and not brings & set(done)
            kept = kept and (not takes & set(done) or done[-1] == "reinstall")
            if kept and thing.age not in ("new", "old") and not {"new", "stays"} & set(thing.facts) and not thing.gone:
                self.board.put(thing, "stays", "yes", told[-1].facts["do"].spans[0], "inferred")

    def _with_tools(self) -> None:
        """A tool at hand and a step that is done with such a tool: offered. What a step uses may be owned."""
        for step in self.board.steps:
            tool = self.language.tool_of.get(step.kind)
            if tool and "with" not in step.facts and "done" not in step.facts and step.facts["do"].note != "inferred":
                self.board.put(step, "with", [tool], step.facts["do"].spans[0], "inferred")
        coats = self.board.vocabulary.taxonomies["action"].below("coat")
        for step in [s for s in self.board.steps if s.kind in coats and "by" not in s.facts and "with" in s.facts]:
            told = [
                self.language.way_of_tool[tool] for tool in step.members("with") if tool in self.language.way_of_tool
            ]
            if len(told) == 1 and not step.called:
                self.board.put(step, "by", told[0], step.facts["with"].spans[0], "inferred")
        crew = self.board.single("crew")
        owned, tools = crew.facts.get("owns"), crew.members("owns")
        taxonomy = self.board.vocabulary.taxonomies["action"]
        for tool in tools:
            does = {k for one in self.language.tool_does.get(tool, ()) for k in taxonomy.below(one)}
            fits = [s for s in self.board.steps if s.kind in does and "done" not in s.facts]
            fits = [s for s in fits if "with" not in s.facts or tool not in s.facts["with"].value]
            ways = tuple(Candidate("step", step.id, "with", tool) for step in fits[:MOST_CANDIDATES])
            if ways and owned is not None:
                self.board.unsure.append(Unsure(owned.spans[0], ways, f"done with the {tool}?"))
        for step in self.board.steps:
            used = step.facts.get("with")
            if used is None or "done" in step.facts:
                continue
            for tool in used.value:
                if tool not in tools:
                    self.board.unsure.append(
                        Unsure(used.spans[0], (Candidate("crew", "crew", "owns", tool),), "at hand?")
                    )
                    tools.append(tool)

    def _used(self) -> None:
        """What a coat, a filler or a sealant is put on with: the only one that is told, or what the verb says."""
        for step in self.board.steps:
            if step.called or "done" in step.facts or "using" in step.facts:
                continue
            kinds = self.language.done_with.get(str(step.facts["do"].value), [])
            told = [
                product
                for product in self.board.things["product"]
                if self.lexicon.done_with(product.kind) == step.kind
                or any(product.kind in self.things.below("product", kind) for kind in kinds)
            ]
            span = step.facts["do"].spans[0]
            kind = self._names_its_product(step)
            if not told and kind is not None:  # nobody primes without a primer
                product = self.board.add("product", kind, kind, span)
                if product is None:
                    continue
                product.facts["kind"].note = "inferred"
                told = [product]
            if len(told) == 1:
                self.board.put(step, "using", [told[0].id], span, "inferred")

    def _names_its_product(self, step: Thing) -> str | None:
        action = str(step.facts["do"].value)
        named = self.language.named_by_word.get(action)
        if named is not None:
            words = {t.text for begin, end in step.facts["do"].spans for t in self.tokens if begin <= t.start < end}
            for word in sorted(words & named.keys()):
                return named[word]
        return self.language.names_its_product.get(action)
