"""Taking the supply away and bringing it back: two sources, two acts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.controller.ports import Panel
from sim.errors import Refused
from sim.said import begun, joined, said
from sim.units import Us
from sim.world.actions import Action
from sim.world.effects.effect import Effect
from sim.world.effects.instruments import read_once
from sim.world.effects.record import write_down

if TYPE_CHECKING:
    from sim.world.world import World


def _isolate(world: World, action: Action) -> str:
    world.cabinet.isolate()
    _rewired(world)
    return said(
        "The mains isolator is open, locked and tagged. The battery is still linked."
        if world.cabinet.battery_linked
        else "The mains isolator is open, locked and tagged."
    )


def _restore(world: World, action: Action) -> str:
    for name in world.people.in_arc():
        world.tell(
            "danger",
            said("supply restored with the {body} in the arc", body=name),
            what="person in the arc",
            detail=name,
            by="restore",
        )
    world.cabinet.restore()
    _rewired(world)
    return said("The mains isolator is closed.")


def _remove_link(world: World, action: Action) -> str:
    world.cabinet.remove_battery_link()
    _rewired(world)
    return said("The battery link is out.")


def _fit_link(world: World, action: Action) -> str:
    world.cabinet.fit_battery_link()
    _rewired(world)
    return said("The battery link is in.")


def _rewired(world: World) -> None:
    world.host.rewired()
    world.notices.power_changed()


def _mains(on: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        if world.cabinet.mains_on is on:
            raise Refused(sentence)

    return ready


def _battery(linked: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        if world.site.supply.battery is None:
            raise Refused("no battery is fitted on this site")
        if world.cabinet.battery_linked is linked:
            raise Refused(sentence)

    return ready


MAINS_PAIRS: Final = (
    ("isolator outlet, live", "isolator outlet, neutral"),
    ("isolator outlet, live", "earth bar, earth"),
    ("isolator outlet, neutral", "earth bar, earth"),
)
"""Behind the isolator every conductor is tested against every other (facts 5.8)."""

LOW_PAIRS: Final = (("board supply, plus", "board supply, minus"), ("board battery, plus", "board battery, minus"))
"""Both sources of the board."""

TESTER: Final = "two-pole tester"


def _prove_dead(world: World, action: Action) -> str:
    """Known source, every pair, known source: the readings are told one by one."""
    pairs = {"mains side": MAINS_PAIRS, "low voltage": LOW_PAIRS}.get(str(action["where"]), MAINS_PAIRS + LOW_PAIRS)
    there = [pair for pair in pairs if all(end in world.cabinet.terminals for end in pair)]
    live: list[str] = []
    for function, at, against in (("prove", "", ""), *(("test dead", *pair) for pair in there), ("prove", "", "")):
        if not world.spend(world.bag.takes(TESTER, function)):
            return said("stopped before it was done: {why}", why=world.events[-1].text)
        read_once(world, TESTER, function, at, against)
        reading = next(event for event in reversed(world.events) if event.kind == "reading")
        shown = reading.data["value"]
        if function == "prove" and not shown:
            return said("The tester shows nothing on its known source: it is broken, and nothing is proved.")
        if function != "prove" and shown:
            live.append(said("{at} to {against} ({shown})", at=at, against=against, shown=reading.data["shown"]))
    if live:
        return said("NOT dead: {live}.", live=joined(live, "; "))
    text = said(
        "proved dead, {where}: tester proved, {count} pairs tested, tester proved again",
        where=action["where"],
        count=len(there),
    )
    write_down(world, text)
    return said("{sentence}.", sentence=begun(text))


def _read_panel(world: World, action: Action) -> str:
    """What the panel says, and the last lines of its log."""
    panel = world.controller.panel()
    shows = said("{state}: {message}", state=panel.state, message=panel.message) if panel.message else panel.state
    log = joined(
        [said("{date} {note}", date=date, note=note) if date else note for date, note in _dated(panel)[-5:]], "; "
    )
    text: str = said("panel: {shows}. Log: {log}" if log else "panel: {shows}. Log: nothing", shows=shows, log=log)
    text = joined([text, *(begun(each) for each in (panel.learned, panel.counted) if each)], ". ")
    write_down(world, text)
    return text


def _dated(panel: Panel) -> list[tuple[str, str]]:
    """Each line of the log with its date; none from a board that has no clock."""
    dates = panel.dates or ("",) * len(panel.log)
    return [(date, text) for date, (_at, text) in zip(dates, panel.log, strict=True)]


def _panel_is_lit(world: World, action: Action) -> None:
    if not world.host.on:
        raise Refused("the board has no power: its panel is dark and its log can't be read")


def _post(world: World, action: Action) -> str:
    return world.people.second.post()


def _send_away(world: World, action: Action) -> str:
    return world.people.second.send_away()


def _call_stop(world: World, action: Action) -> str:
    return world.people.second.on_word()


def _nobody_yet(world: World, action: Action) -> None:
    world.people.second.check(posted=True)


def _somebody(world: World, action: Action) -> None:
    world.people.second.check(posted=False)


def _has_tester(world: World, action: Action) -> None:
    world.bag.check(TESTER, "prove")


def _charged_inside(world: World, action: Action) -> Us:
    return Us(0)


def _discharge(world: World, action: Action) -> str:
    return world.stored.discharge()


def _nothing_feeds_it(world: World, action: Action) -> None:
    world.stored.check()


EFFECTS = {
    "discharge": Effect(_discharge, _nothing_feeds_it),
    "read status and log": Effect(_read_panel, _panel_is_lit),
    "prove dead": Effect(_prove_dead, _has_tester, _charged_inside),
    "post second person": Effect(_post, _nobody_yet),
    "send second person away": Effect(_send_away, _somebody),
    "call stop": Effect(_call_stop, _somebody),
    "isolate": Effect(_isolate, _mains(False, "the isolator is open already")),
    "restore": Effect(_restore, _mains(True, "the isolator is closed already")),
    "remove battery link": Effect(_remove_link, _battery(False, "the battery link is out already")),
    "fit battery link": Effect(_fit_link, _battery(True, "the battery link is in already")),
}
