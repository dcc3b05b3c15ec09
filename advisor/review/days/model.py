"""The calendar of the work as data: when each piece of work is done, what it comes to, and what it costs."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.review.order.lab_results import WaitTold


class Moment(Struct, frozen=True):
    """A time for a reader: day from 1, its working day, date where one is known, and hour."""

    day: int
    working_day: int
    date: str | None
    time: str  # 08:00


class Before(Struct, frozen=True):
    """What the calendar keeps a piece of work behind: a step, the hours after it, and when they are over."""

    step: str
    hours: float
    over: Moment
    why: str  # the id of a rule, or a word


class WorkRow(Struct, frozen=True):
    """A piece of work on the calendar: a step, or one of its coats."""

    step: str
    coat: int | None
    begins: Moment
    ends: Moment
    free: Moment  # when its parts may be touched
    hours: float
    people: int
    hired: bool
    by_itself_hours: float
    slack_hours: float
    critical: bool
    held_up_by: str | None
    held_up_why: str | None
    presumed: tuple[str, ...]
    planned_day: int | None  # of the plan, where the calendar comes later
    wait_hours: float
    task: str = ""  # what a finding asks for before or after the step; empty for the step itself
    before: tuple[Before, ...] = ()
    at_once: bool = False  # not to be put off: no hours are offered by which it may be late
    held_back: bool = False  # could be done sooner, and the house would only do without something sooner

    @property
    def holds_up(self) -> bool:
        """Whether a delay of it delays the end, on the chain or beside it."""
        return self.critical or not (self.slack_hours or self.at_once or not (self.hours or self.by_itself_hours))

    @property
    def name(self) -> str:
        """The step, with its coat or with what is asked for beside it."""
        if self.task:
            return f"{self.step}: {self.task}"
        return f"{self.step} (coat {self.coat})" if self.coat else self.step


class Without(Struct, frozen=True):
    """A stretch in which the house does without something."""

    what: str
    days: int
    begins: Moment
    ends: Moment
    first_step: str
    last_step: str
    brought_back: bool
    allowed: int | None
    too_long: bool


class OtherMoney(Struct, frozen=True):
    """Costs in a money that is not the plan's: neither converted nor added."""

    unit: str
    costs: float
    of: tuple[str, ...]


class Costs(Struct, frozen=True):
    """What the plan costs in its own money, with a reserve, against the budget."""

    unit: str
    costs: float
    reserve: float
    reserve_share: float
    reserve_presumed: bool
    total: float
    budget: float | None
    left: float | None


class Spending(Struct, frozen=True):
    """All that is said of money; `costs` is None where no price is known."""

    costs: Costs | None = None
    unpriced: tuple[str, ...] = ()
    others: tuple[OtherMoney, ...] = ()


class Timetable(Struct, frozen=True):
    """The order of work on the calendar."""

    method: str = ""
    start: str | None = None
    hours_per_day: float = 8.0
    days: tuple[str, ...] = ()
    people: int = 1
    presumed: tuple[str, ...] = ()
    work_hours: float = 0.0
    presumed_hours: float = 0.0
    hired_hours: float = 0.0
    asked_hours: float = 0.0  # of what findings ask for beside the steps: in no other sum
    uncounted: tuple[str, ...] = ()  # what advice adds and no row has, a word for each piece
    budget_hours: float | None = None
    clock_hours: float | None = None  # as work_hours, but two who work together count once
    working_days: int = 0
    calendar_days: int = 0
    ready: Moment | None = None  # dry and cured
    ready_days: int = 0
    least_days: int = 0
    late: str | None = None
    critical_chain: tuple[str, ...] = ()
    without: tuple[Without, ...] = ()
    money: Spending = field(default_factory=Spending)
    rows: tuple[WorkRow, ...] = ()  # by time
    results: tuple[WaitTold, ...] = ()


class NoTimetable(Struct, frozen=True):
    """Why no calendar can be made."""

    why: str
