"""What hearing a text works with."""

from __future__ import annotations

from advisor.draft.attach import Attacher
from advisor.draft.board import Board, Span, Thing
from advisor.draft.carries import Carries
from advisor.draft.finder import Finder
from advisor.draft.frames import Frames
from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon
from advisor.draft.mentions import Mention, Namer
from advisor.draft.moved import Moved
from advisor.draft.people import People
from advisor.draft.things import Things
from advisor.draft.tokens import Token, tokens_of
from advisor.draft.worked import Worked

MOST_TOKENS = 6_000


class Hearing:
    """The text, its pieces and the board; `hear.Hearer` adds what is done with them."""

    def __init__(self, text: str, lexicon: Lexicon, table: Carries, board: Board) -> None:
        self.text, self.lexicon, self.board = text, lexicon, board
        self.language = lexicon.language
        self.tokens: list[Token] = tokens_of(text)[:MOST_TOKENS]
        self.finder = Finder(lexicon, self.tokens)
        self.moved = Moved(lexicon, self.tokens)
        self.worked = Worked(lexicon, self.tokens)
        self.namer = Namer(self.tokens, self.language, lexicon.exact)
        self.attacher = Attacher(board, self.tokens, lexicon, table)
        self.frames = Frames(board, self.tokens, self.language)
        self.things = Things(board, self.tokens, lexicon, table)
        self.people = People(board, self.tokens, self.language)
        self.condition = False
        self.row_end = -9  # the token with which the clause of the last step ended
        self.in_row: list[tuple[Item, Thing]] = []  # steps of this clause that only their products told
        self.waiting: list[
            tuple[Item, Thing]
        ] = []  # verbs whose thing comes with a later one: `prime and paint the doors`
        self.strange = False  # a verb of the clause has a thing that is not understood
        self.left: tuple[str, list[str], int] | None = None  # what somebody will not do: action, things, place
        self.wanted_color: tuple[str, Span] | None = None
        self.laid: set[int] = set()  # words for what is laid over a thing to keep it clean
        self.owning = False
        self.reach = 0  # the token up to which a word for having reaches
        self.workers_said: list[tuple[Span, str]] = []  # who is named that may do some of the work
        self.tools_said: list[tuple[Span, str]] = []  # tools that are named, with their places
        self.helpers: set[str] = set()  # who helps, as they are called
        self.names: set[str] = set()  # of people who do something
        self.label = ""  # who does what stands behind it: `me: sanding`
        self.retold = -1  # the sentence in which it was only told who does what was told before
        self.person = ""  # who was spoken of last, but for the owner
        self.ahead: list[str] = []  # parts that stood alone before a comma, in this sentence
        self.listing = False  # a heading said that steps follow
        self.myself: list[tuple[Thing, Span]] = []  # steps of which the words say that the owner does them
        self.subject: Thing | None = None  # what a sentence named first
        self.begin = 0  # the token with which the sentence begins
        self.latest: Mention | None = None
        self.told: Mention | None = None  # what the sentence spoke of last, also tools and people

    def span(self, start: int, end: int) -> Span:
        """The letters of a stretch of tokens."""
        return self.tokens[start].start, self.tokens[max(start, end - 1)].end
