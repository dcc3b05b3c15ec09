"""The things that a text has told of so far, for those who ask what a name or a verb means."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

from advisor.draft.board import Board, Span, Thing
from advisor.draft.carries import Carries
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon, Sense
from advisor.draft.likely import Likely
from advisor.draft.mentions import Mention
from advisor.draft.tokens import Token
from advisor.plan.added import roomless

Spans = Callable[[int, int], Span]
_PLACING = frozenset({"in", "inside", "at", "out", "into", "to", "outside"})
_WHERE = frozenset({"up", "down"}) | frozenset(
    [
        "at",
        "under",
        "over",
        "behind",
        "above",
        "near",
        "from",
        "off",
        "around",
        "between",
        "against",
        "beside",
        "beneath",
        "underneath",
        "next",
    ]
)
_BODY = {"walls": "wall", "floor": "floor", "ceiling": "ceiling"}
_ON = frozenset(["on", "onto", "over", "off", "from", "around", "behind", "under", "of", "through"])
_AT = frozenset({*_ON, "to", "into"})  # where a product is put


class Kept:
    """What is kept of the things of a text: board, words, and which thing each mention of a clause means."""

    def __init__(self, board: Board, tokens: list[Token], lexicon: Lexicon, table: Carries) -> None:
        self.table = table
        self.board, self.tokens, self.lexicon = board, tokens, lexicon
        self.language = lexicon.language
        self.likely = Likely(lexicon.language, board.vocabulary)
        self.others: list[str] = []  # what else the thing of a verb may be
        self._of: dict[int, Thing] = {}
        self._roomed: set[int] = set()
        self._clause_has_object = False
        self._turned = False
        self._mentions: list[Mention] = []  # of the clause
        self._items: list[Item] = []  # of the clause
        self._head: Thing | None = None  # the room at the head of the sentence
        self.subject: Thing | None = None  # what the sentence named first, and told something of
        self.notes = sum(t.sort == "break" for t in tokens) > 1  # a list of short notes under a heading
        self._accessories = frozenset(k for one in lexicon.language.accessories for k in self.below("part", one))
        self._kinds: Counter[str] = Counter()  # how many parts there are of each kind
        self.lacking: tuple[Sense, str] | None = None  # what was told not to be there
        self._switches = False
        kinds = self.board.vocabulary.taxonomies["part_kind"]
        listed = ("floor covering", "wallpaper", "wall covering", "carpet pad", "tack strip", "drywall")
        self.coverings = frozenset(k for one in listed if one in kinds.terms for k in kinds.below(one))
        actions = self.board.vocabulary.taxonomies["action"]
        self._patches = actions.below("fill") | actions.below("patch drywall") | actions.below("skim coat")
        surfaces = ("cabinet doors", "drawer fronts", "door", "furniture", "window", "cabinets")
        self._surfaces = frozenset(k for one in surfaces if one in kinds.terms for k in kinds.below(one))
        structure = ("wall", "ceiling", "floor", "stud", "joist", "roof")
        self.bodies = frozenset(k for one in structure for k in self.below("part", one))
        self.outer = roomless(board.vocabulary)
        self._stores = lexicon.language.places["stores"]  # things wait there
        self._only_kept = False  # what is owned is no part of the house
        self.body: tuple[str, str, Thing, Span] | None = None  # walls or floor of which only the material was told

    def _kinds_of(self, group: str) -> frozenset[str]:
        """The kinds of part of a group of `rules/language/rooms.yaml`, with those below them."""
        return frozenset(k for one in self.language.places[group] for k in self.below("part", one))

    def of(self, mention: Mention) -> Thing | None:
        """The thing that a mention was found to mean."""
        return self._of.get(id(mention))

    def last_of(self, mention: Mention) -> Thing | None:
        """The part or product that was named last, where it is what a mention names."""
        if mention.sense.role not in ("part", "product"):
            return None
        return next(
            (t for t in self.board.focus if t.sort == mention.sense.role and t.kind == mention.sense.name), None
        )

    def below(self, sort: str, kind: str) -> frozenset[str]:
        """The kinds of a sort that a kind takes in."""
        known = self.board.vocabulary.taxonomies[f"{sort}_kind"]
        return known.below(kind) if kind in known.terms else frozenset()

    def one_of(self, kind: str, kinds: Iterable[str]) -> bool:
        """Whether a kind of part is one of those, or a kind of one."""
        return any(kind in self.below("part", one) for one in kinds)

    def _has_pronoun(self, clause: Clause) -> bool:
        return any(t.text in ("it", "them") for t in self.tokens[clause.start : clause.stop])
