"""Whether what sets the gate going, and what protects people, suits who uses it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast, get_args

from sim.said import listed, said
from sim.site import UserGroup
from sim.site.activation import Activation, Level, lacking
from sim.world.history import Standing
from trainer.grading.checks import force
from trainer.grading.checks.check import Check, failed, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import BEAMS, Story, same

BUTTONS = ("open button", "close button")
IN_SIGHT = ("step button", "key switch", "keypad", "pedestrian button")
"""Controls at the gate, whose user sees it."""

OUT_OF_SIGHT = ("intercom",)
BY_ITSELF = ("timer contact", "loop detector")


def activations(standing: Standing) -> Iterator[Activation]:
    """Each way in which this gate is set going as it stands. A transmitter may be pressed anywhere."""
    wired = set(standing.wired)
    held = same(standing.sheet.get("open and close buttons", ""), "hold-to-run")
    key_held = same(standing.sheet.get("key switch", ""), "hold-to-run open")
    if (held and wired & set(BUTTONS)) or (key_held and "key switch" in wired):
        yield "hold-to-run"
    pressed = set(IN_SIGHT) - ({"key switch"} if key_held else set()) | (set() if held else set(BUTTONS))
    if wired & pressed:
        yield "a press in sight"
    if standing.transmitters or wired & set(OUT_OF_SIGHT):
        yield "a press out of sight"
    if same(standing.sheet.get("auto-close", "off"), "on") or wired & set(BY_ITSELF):
        yield "by itself"


def _works(story: Story, guard: str) -> bool:
    standing = story.standing
    return standing.fitted.get(guard, False) and story.declared(guard) and guard not in standing.bridged


def levels(story: Story) -> Iterator[Level]:
    """What protects at the main closing edge: edges that are there, or a force that was measured; beams."""
    standing = story.standing
    edges = all(_works(story, f"{leaf} edge") for leaf in standing.leaves)
    if edges or force.CHECKS[0].judge(story).state in ("passed", "marginal"):
        yield "limited force"
    sheet = standing.sheet
    if any(_works(story, beam) and not same(sheet.get(f"{beam} input", ""), "contact edge") for beam in BEAMS):
        yield "presence detection"
    if same(standing.sheet.get("open and close buttons", ""), "hold-to-run"):
        yield "held by push button"
    elif same(standing.sheet.get("key switch", ""), "hold-to-run open"):
        yield "held by key switch"


def _suits(story: Story) -> Verdict:
    standing = story.standing
    cited = [deed.cite for deed in story.done("state user group")]
    if not standing.user_group_stated:
        return not_yet("Nobody wrote down who uses the gate; what must protect them follows from that.")
    if standing.user_group_truth not in get_args(UserGroup):
        return not_yet(said("Nothing is known of what protects '{users}'.", users=standing.user_group_truth), *cited)
    group, present = cast(UserGroup, standing.user_group_truth), set(levels(story))
    wrong = [each for each in (lacking(way, group, present) for way in activations(standing)) if each]
    if same(standing.sheet.get("hold-to-run after a failed test", ""), "allowed") and group == "anyone":
        wrong.append(
            said("hold-to-run after a failed guard test is allowed on the sheet, and anyone may hold the control")
        )
    if wrong:
        return failed(said("It does not suit who uses the gate: {wrong}.", wrong=listed(wrong)), *cited)
    return passed("What sets the gate going suits who uses it and what protects them.", *cited)


CHECKS = (
    Check(
        name="activation suits the users",
        part="outcome",
        title="Ways to set it going suit who uses it",
        why="Who can be near the gate decides what it may do unseen: hold-to-run needs instructed users, and a gate "
        "that moves by itself needs a limited force and something that notices people.",
        instead="Write down who uses the gate; then fit and declare what that asks for, or take the way of setting "
        "it going away.",
        judge=_suits,
        needs=("guards declared truly",),
    ),
)
