"""What a debrief tells of worth: what each measurement told against the best there was then, and what spoke for each
repair when it was made. It is shown and never marked: marks hang on no table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from sim.said import joined, said
from sim.units import Us, clock_text
from trainer.session.lookback import MeasuredView

if TYPE_CHECKING:
    from sim.world.history import History
    from trainer.session.assignment import Adviser

Standing = Literal["there", "being worked out", "can't be worked out"]
"""How it stands with the table that all of it comes from."""

MEANING: Final = said(
    "In bits: what a measurement was expected to tell of the cause when it was made, what it told, and the most that "
    "any other would have been expected to tell then. One bit halves what is left to choose from. Marks don't depend "
    "on it."
)
BEING_WORKED_OUT: Final = said(
    "What each measurement was worth is being worked out, which takes a minute or two; it comes here by itself."
)
NO_TABLE: Final = said(
    "What each measurement was worth can't be worked out; `gudgeon check --deep` of the job's file says why."
)
NONE_BETTER: Final = said("nothing would have told more")
MENDS_NOTHING: Final = said("mends nothing that this gate can have failed by")
NO_CAUSE: Final = said("This job asks for no cause, so measurements are not weighed against one.")

MADE_HEADS: Final = (
    said("time"),
    said("what"),
    said("expected [bit]"),
    said("told [bit]"),
    said("best then [bit]"),
    said("the best then"),
)
MENDED_HEADS: Final = (said("time"), said("repair"), said("what it mends"), said("likely then [%]"))


@dataclass(frozen=True, slots=True)
class MadeRow:
    """A measurement or a look that was made, and what it was worth."""

    line: int
    """Journal line of the act it came from."""
    at: Us
    what: str
    expected_bit: float
    """Expected fall of the uncertainty about the cause, before it was made [bit]."""
    told_bit: float
    """What it did tell [bit]; negative where it came as a surprise."""
    best_bit: float
    """The most that anything that may be measured would have been expected to tell then [bit]."""
    best: str
    """What that was, in words; empty where nothing would have told more."""

    @property
    def cells(self) -> tuple[str, str, str, str, str, str]:
        """A row under `MADE_HEADS`."""
        expected, told, best = tenths(self.expected_bit), tenths(self.told_bit), tenths(self.best_bit)
        return clock_text(self.at), self.what, expected, told, best, self.best or NONE_BETTER

    @property
    def words(self) -> str:
        """All of it in a sentence."""
        expected, told, best = (tenths(each) for each in (self.expected_bit, self.told_bit, self.best_bit))
        if not self.best:
            return said(
                "expected to tell {expected} bit, told {told} bit; {none_better}",
                expected=expected,
                told=told,
                none_better=NONE_BETTER,
            )
        return said(
            "expected to tell {expected} bit, told {told} bit; the best then, {best_bit} bit: {best}",
            expected=expected,
            told=told,
            best_bit=best,
            best=self.best,
        )


@dataclass(frozen=True, slots=True)
class RepairRow:
    """A repair, or what was meant for one, and what spoke for it."""

    line: int
    at: Us
    what: str
    causes: tuple[str, ...]
    """What it mends; empty where it mends nothing that this gate can have."""
    belief_pct: float
    """How likely one of them was by all that was known when it was made [%]."""

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """A row under `MENDED_HEADS`."""
        mends = joined(self.causes, ", ") if self.causes else MENDS_NOTHING
        return clock_text(self.at), self.what, mends, f"{self.belief_pct:.0f}" if self.causes else ""

    @property
    def words(self) -> str:
        """All of it in a sentence."""
        if not self.causes:
            return MENDS_NOTHING
        return said(
            "by what was known then {belief_pct:.0f} % likely: {causes}",
            belief_pct=self.belief_pct,
            causes=joined(self.causes, ", "),
        )


@dataclass(frozen=True, slots=True)
class WorthView:
    """How it stands, and what there is to tell."""

    standing: Standing
    why: str = ""
    """Why there is nothing to tell yet, or at all, in a sentence; empty where there is."""
    made: tuple[MadeRow, ...] = ()
    """In the order of time."""
    repaired: tuple[RepairRow, ...] = ()


def worth_of(adviser: Adviser | None, history: Callable[[], History], begin: bool) -> WorthView:
    """What each step of an attempt was worth, as far as that is known now; `begin`: have it worked out if need be.

    `history` is asked for only once there is something to weigh it by: putting it together takes a while.
    """
    if adviser is None:
        return WorthView("can't be worked out", NO_CAUSE)
    standing = adviser.standing(begin)
    if standing == "there":
        return adviser.worth(history())
    return WorthView(standing, BEING_WORKED_OUT if standing == "being worked out" else NO_TABLE)


def beside(
    measured: Sequence[MeasuredView], made: Sequence[MadeRow]
) -> tuple[tuple[MeasuredView, MadeRow | None], ...]:
    """Each measurement with what it was worth, None where the table doesn't have it; and each look that left no
    reading, as if it were one that showed nothing. In the order of time."""
    rows = {(each.line, each.at): each for each in made}
    read = {(each.line, each.at) for each in measured}
    looks = [MeasuredView(each.line, each.at, each.what, "") for key, each in rows.items() if key not in read]
    told = sorted([*measured, *looks], key=lambda each: each.at)
    return tuple((each, rows.get((each.line, each.at))) for each in told)


def tenths(bit: float) -> str:
    """Bits to one decimal, and nothing as nothing."""
    return f"{round(bit, 1) + 0.0:.1f}"
