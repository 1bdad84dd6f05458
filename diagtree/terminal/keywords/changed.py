"""`changed`: somebody changed the car behind our back: powered it, opened or closed something."""

from __future__ import annotations

from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.drivers import Scene
from diagtree.terminal.keywords import Keyword
from diagtree.walk.answers import Answer, Changed
from diagtree.walk.prompts import Option, Prompt

_POWERED = (
    Option("yes", "yes, it was or may have been"),
    Option("no", "no, certainly not"),
)


def _say(dialogue: Dialogue, prompt: Prompt, scene: Scene, rest: str) -> Answer | None:  # noqa: ARG001
    (powered,) = dialogue.pick("Was the car switched on, plugged in or reconnected by somebody?", _POWERED)
    shut = [access for access in scene.access if access not in scene.open_now]
    opened = _which(dialogue, scene, "Opened by somebody, and open now?", shut)
    closed = _which(dialogue, scene, "Closed by somebody, and closed now?", list(scene.open_now))
    if powered == "no" and not opened and not closed:
        dialogue.tell("Then nothing was changed. Use `note` for a remark.")
        return None
    return Changed(powered=powered == "yes", opened=opened, closed=closed, note=dialogue.ask("Who did it, and why?"))


def _which(dialogue: Dialogue, scene: Scene, question: str, ids: list[str]) -> tuple[str, ...]:
    if not ids:
        return ()
    options = [Option("nothing", "nothing"), *(Option(one, scene.access[one].name) for one in ids)]
    chosen = dialogue.pick(question, options, many=True)
    return tuple(one for one in chosen if one != "nothing")


KEYWORD = Keyword(
    word="changed", short="c", order=50, say=_say,
    means="somebody powered the car, or opened or closed something.",
)
