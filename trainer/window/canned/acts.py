"""What each action changes in the canned session."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final, cast

from sim.units import SECOND, Us
from sim.world.actions import Action
from sim.world.notebook import Written
from trainer.session.tools import ReadingView
from trainer.session.yard_view import BodyView
from trainer.window.canned import bag, yard

if TYPE_CHECKING:
    from trainer.window.canned.session import CannedSession

SIZES: Final = {
    "test body": (0.3, 0.2, 0.7),
    "adult": (0.5, 0.3, 1.75),
    "child": (0.35, 0.25, 1.1),
    "pram": (0.6, 0.95, 1.05),
    "dog": (0.25, 0.9, 0.6),
    "bicycle": (0.6, 1.8, 1.05),
    "car": (1.8, 4.4, 1.5),
    "van": (2.0, 5.9, 2.5),
}


def refused(session: CannedSession, action: Action) -> str:
    """Why the action makes no sense now, else empty."""
    if action.kind == "set":
        if session.sealed:
            return "The sheet is sealed; unseal it with a reason."
        if not session.powered:
            return "The panel is dark: the controller has no power."
        if action["value"] == "not fitted" and not session.survey:
            return f"‘not fitted’ for the {action['setting']}: the survey must first say what covers that hazard."
    if action.kind == "place body" and action["body"] == "car" and abs(float(action["y_m"])) < 1.0:
        return "A car does not fit into the opening beside the leaves."
    if action.kind in ("hand over", "make safe") and session.finished:
        return "This job has ended."
    return ""


def take(session: CannedSession, action: Action) -> str:
    """Do it; answers what came of it."""
    does = _DOES.get(action.kind)
    return does(session, action) if does is not None else ""


def _flag(name: str, value: bool, said: str = "") -> Callable[[CannedSession, Action], str]:
    def do(session: CannedSession, _: Action) -> str:
        setattr(session, name, value)
        return said

    return do


def _add(name: str, argument: str) -> Callable[[CannedSession, Action], str]:
    return lambda session, action: getattr(session, name).add(action[argument]) or ""


def _drop(name: str, argument: str) -> Callable[[CannedSession, Action], str]:
    return lambda session, action: getattr(session, name).discard(action[argument]) or ""


def _set(session: CannedSession, action: Action) -> str:
    name = str(action["setting"])
    if name not in session.settings:
        return f"There is no setting ‘{name}’."
    _write(session, {name: str(action["value"])})
    return f"{name}: {action['value']}"


def _reset(session: CannedSession, _: Action) -> str:
    _write(session, {name: row.default for name, row in session.settings.items() if row.default})
    return "Every setting stands as out of the box."


def _write(session: CannedSession, given: dict[str, str]) -> None:
    before = {name: row.value for name, row in session.settings.items()}
    for name, value in given.items():
        session.settings[name] = replace(session.settings[name], value=value)
    session.sheet_log.wrote(_now(session), before, before | given)


def _press(session: CannedSession, action: Action) -> str:
    control = str(action["control"])
    session.held.append(control)
    if control == "stop button":
        session.drive(None, None)
    elif not session.blocked():
        shut = control == "close button" or (control == "step button" and session.angles[0] > 5)
        session.drive(*((0.0, 0.0) if shut else (yard.OPEN_DEG, yard.OPEN_DEG)))
    return f"{control} pressed"


def _release(session: CannedSession, action: Action) -> str:
    session.held = [held for held in session.held if held != action["control"]]
    return ""


def _jog(session: CannedSession, action: Action) -> str:
    session.held.append(f"jog {action['leaf']} leaf")
    session.jog_ways[str(action["leaf"])] = str(action["direction"])
    return ""


def _jog_end(session: CannedSession, action: Action) -> str:
    session.held = [held for held in session.held if held != f"jog {action['leaf']} leaf"]
    return ""


def _transmit(session: CannedSession, action: Action) -> str:
    session.held.append(f"transmitter {action['transmitter']}")
    if session.enrolled and not session.blocked():
        session.drive(yard.OPEN_DEG, yard.OPEN_DEG)
    return f"transmitter {action['transmitter']}, button {action['button']}"


def _transmit_end(session: CannedSession, action: Action) -> str:
    session.held = [held for held in session.held if held != f"transmitter {action['transmitter']}"]
    return ""


def _hold_in_gap(session: CannedSession, action: Action) -> str:
    session.in_gap[0 if action["leaf"] == "active" else 1] = str(action.arguments.get("what", ""))
    return "It is held there." if "what" in action.arguments else "It is out."


def _engaged(value: bool) -> Callable[[CannedSession, Action], str]:
    def do(session: CannedSession, action: Action) -> str:
        session.engaged[0 if action["leaf"] == "active" else 1] = value
        return f"{action['leaf']} leaf: drive {'engaged' if value else 'released'}"

    return do


def _push(session: CannedSession, action: Action) -> str:
    leaf = 0 if action["leaf"] == "active" else 1
    if session.engaged[leaf]:
        return f"The {action['leaf']} leaf does not move: its drive is engaged. 180 N at the tip."
    session.angles[leaf] = max(0.0, min(float(action["to_deg"]), yard.OPEN_DEG))
    return f"{action['leaf']} leaf pushed to {session.angles[leaf]:.0f}°, 42 N at the tip"


def _place(session: CannedSession, action: Action) -> str:
    name = str(action["body"])
    across, along, high = SIZES[name]
    lying = bool(action["lying"])
    size = (high, across, along) if lying else (across, along, high)
    turn = float(action["turn_deg"])
    session.bodies[name] = BodyView(name, float(action["x_m"]), float(action["y_m"]), size, lying, turn)
    return f"{name} placed"


def _move(session: CannedSession, action: Action) -> str:
    name = str(action["body"])
    x, y = float(action["x_m"]), float(action["y_m"])
    session.bodies[name] = replace(session.bodies[name], x_m=x, y_m=y)
    return f"{name} moved"


def _walk(session: CannedSession, action: Action) -> str:
    name = str(action["body"])
    points = tuple((float(x), float(y)) for x, y in (piece.split(",") for piece in str(action["path"]).split()))
    session.bodies[name] = replace(session.bodies[name], speed_m_s=float(action["speed_m_s"]), ahead=points)
    return f"{name} is on its way"


def _stand_still(session: CannedSession, action: Action) -> str:
    name = str(action["body"])
    session.bodies[name] = replace(session.bodies[name], speed_m_s=0.0, ahead=())
    return f"{name} stands"


def _remove(session: CannedSession, action: Action) -> str:
    session.bodies.pop(str(action["body"]), None)
    return f"{action['body']} taken away"


def _survey(session: CannedSession, action: Action) -> str:
    session.survey[str(action["hazard"])] = str(action["protection"])
    return "Written down."


def _group(session: CannedSession, action: Action) -> str:
    session.user_group = str(action["group"])
    return "Written down."


def _note(session: CannedSession, action: Action) -> str:
    session.notebook.add(_now(session), str(action["text"]), cast(Written, action["entry"]))
    return "Written down."


def _change_note(session: CannedSession, action: Action) -> str:
    entry = cast(Written, action["entry"])
    session.notebook.rewrite(int(action["number"]), _now(session), str(action["text"]), entry)
    return "Written anew."


def _strike_note(session: CannedSession, action: Action) -> str:
    session.notebook.strike(int(action["number"]), _now(session))
    return "Struck out; it stays readable."


def _conclude(session: CannedSession, action: Action) -> str:
    session.notebook.conclude(_now(session), str(action["cause"]), int(action["sure"]))
    return "Concluded."


def _take_back(session: CannedSession, action: Action) -> str:
    session.notebook.take_back(str(action["cause"]))
    return "Taken back."


def _hint(session: CannedSession, _action: Action) -> str:
    words = "What do you know is still good?"
    session.notebook.add(_now(session), f"hint: {words}")
    return words


def _now(session: CannedSession) -> Us:
    return Us(round(session.now * SECOND))


def _predict(session: CannedSession, action: Action) -> str:
    session.answers[str(action["question"])] = str(action["answer"])
    return "Now look."


def _probes(session: CannedSession, action: Action) -> str:
    given = {"function": action["function"], "at": action["red"], "against": action["black"]}
    return bag.placed(session, Action("place instrument", {"instrument": "multimeter", **given}))


def _read_meter(session: CannedSession, _: Action) -> str:
    return bag.read(session, Action("read instrument", {"instrument": "multimeter"}))


def _lift(session: CannedSession, _: Action) -> str:
    return bag.lifted(session, Action("lift instrument", {"instrument": "multimeter"}))


def _test(session: CannedSession, action: Action) -> str:
    text = "lit to 24 V" if session.powered else "no lamp lights"
    at, against = (str(action.arguments.get(lead, "")) for lead in ("red", "black"))
    function = "test dead" if at else "prove"
    session.readings["two-pole tester"] = ReadingView("two-pole tester", text, function, at, against)
    return text


def _gauge(session: CannedSession, action: Action) -> str:
    session.gauge = (str(action["leaf"]), float(action["gap_mm"]), float(action["height_mm"]))
    return "The gauge stands."


def _no_gauge(session: CannedSession, _: Action) -> str:
    session.gauge = None
    return "Gauge taken away."


def _curve(session: CannedSession, _: Action) -> str:
    session.curves.append(yard.curve(len(session.curves)))
    return f"Stored: {session.curves[-1].peak_n:.0f} N, {session.curves[-1].verdict}"


def _enrol(session: CannedSession, action: Action) -> str:
    session.enrolled.append((str(action["holder"]), str(action["function"])))
    return f"{action['holder']}: {action['function']}"


def _delete(session: CannedSession, action: Action) -> str:
    session.enrolled = [row for row in session.enrolled if row[0] != action["holder"]]
    return "Deleted."


def _learn(session: CannedSession, _: Action) -> str:
    if session.blocked():
        return "It does not start: " + ", ".join(session.blocked())
    session.learned = True
    session.drive(yard.OPEN_DEG, yard.OPEN_DEG)
    return "Learning has begun."


def _swap(session: CannedSession, action: Action) -> str:
    session.swapped ^= {f"{action['leaf']} leaf motor"}
    return "Exchanged at the board."


def _end(session: CannedSession, action: Action) -> str:
    session.finished = True
    return "The job has ended."


def _wait(session: CannedSession, action: Action) -> str:
    session.let_pass(float(action["seconds"] if action.kind == "wait" else 8.0))
    return "Time has passed."


_DOES: Final[dict[str, Callable[[CannedSession, Action], str]]] = {
    "set": _set,
    "reset sheet": _reset,
    "press": _press,
    "release": _release,
    "jog press": _jog,
    "jog release": _jog_end,
    "press transmitter": _transmit,
    "release transmitter": _transmit_end,
    "isolate": _flag("mains", False, "Isolator open, locked, tagged."),
    "restore": _flag("mains", True, "Supply restored."),
    "remove battery link": _flag("battery", False, "Battery link pulled."),
    "fit battery link": _flag("battery", True, "Battery link fitted."),
    "cordon": _flag("cordon", True, "Barriers stand."),
    "remove cordon": _flag("cordon", False, "Barriers taken away."),
    "seal sheet": _flag("sealed", True, "Sealed."),
    "unseal sheet": _flag("sealed", False, "Unsealed."),
    "release drive": _engaged(False),
    "engage drive": _engaged(True),
    "push leaf": _push,
    "hold in hinge gap": _hold_in_gap,
    "take out of hinge gap": _hold_in_gap,
    "place body": _place,
    "move body": _move,
    "walk body": _walk,
    "stop body": _stand_still,
    "remove body": _remove,
    "cover beam": _add("by_hand", "guard"),
    "uncover beam": _drop("by_hand", "guard"),
    "press edge": _add("by_hand", "guard"),
    "release edge": _drop("by_hand", "guard"),
    "unplug": _add("unplugged", "guard"),
    "plug in": _drop("unplugged", "guard"),
    "bridge": _add("bridged", "guard"),
    "remove bridge": _drop("bridged", "guard"),
    "swap motor leads": _swap,
    "survey hazard": _survey,
    "state user group": _group,
    "note": _note,
    "change note": _change_note,
    "strike note": _strike_note,
    "conclude": _conclude,
    "take back conclusion": _take_back,
    "ask for a hint": _hint,
    "predict": _predict,
    "place probes": _probes,
    "read meter": _read_meter,
    "lift probes": _lift,
    "test dead": _test,
    "prove tester": _test,
    "measure": bag.measured,
    "place instrument": bag.placed,
    "read instrument": bag.read,
    "lift instrument": bag.lifted,
    "place force gauge": _gauge,
    "remove force gauge": _no_gauge,
    "read force gauge": _curve,
    "enrol transmitter": _enrol,
    "delete transmitter": _delete,
    "learn travel": _learn,
    "hand over": _end,
    "make safe": _end,
    "wait": _wait,
    "wait until": _wait,
}
