"""From a prompt to an answer, by showing and asking: the same words on a screen and in plain lines.

Nothing here prints or reads keys: a `Face` does. Enter alone is never an answer, and no answer is preselected.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from diagtree.knowledge.words import Test
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.drivers import Scene
from diagtree.terminal.face import Block, Face, Look
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.views import prompt as view
from diagtree.walk.answers import Answer, Back, Changed, Chosen, DidNot, Leave, Note, Ticked, Typed
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Option, Prompt, Tick

Read = Callable[[str], str]  # asks for one line under a label
_NONE = "none"  # typed where an optional value is left out
_NOT_KNOWN = frozenset({_NONE, "unknown", "not known", "don't know", "dont know"})  # taken in its stead
_SAME = "same"  # typed where what the owner said before was taken back and stands again


class _Aside(Exception):
    """The person said a key word; `answer` is what came of it, None to go back to the question."""

    def __init__(self, answer: Answer | None) -> None:
        super().__init__()
        self.answer = answer


class Dialogue:
    """Answers prompts by asking a person at `face`."""

    advised = True

    def __init__(self, face: Face, *, attended: bool = True) -> None:
        """attended : whether somebody is there who reads what is asked back; lines from a pipe do not."""
        self.face = face
        self.attended = attended
        self._doubted = False  # one reading of the present form was asked back
        self._typed: dict[str, str] = {}  # values of a form half filled in, kept over a note or a look at `why`
        self._typed_at: tuple[object, ...] = ()
        self._told: dict[str, str] = {}  # what the owner said so far: kept whatever else is done first
        self._told_before: dict[str, str] = {}  # and what was said when the question was answered last
        self._refused = False
        self._read: tuple[tuple[str, ...], object] = (), None  # cautions of the step before, and how the car stood

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        """Return the person's answer, or a key word's. Raises Interrupted."""
        again = self._refused and self._typed_at == self._identity(prompt)
        self._show(prompt, view.question(prompt) if again else view.whole(prompt, self._read_just_now(scene)))
        self._refused = False
        self._read = prompt.cautions, scene.standing
        if self._typed_at != self._identity(prompt):
            self._typed_at = self._identity(prompt)
            self._doubted = False
            self._typed = self._told if prompt.kind is Kind.COMPLAINT else {}
        while True:
            try:
                given = self._form(prompt, scene, self._reader(prompt, scene))
                self._typed.clear()
                return given
            except _Aside as aside:
                if isinstance(aside.answer, Back | DidNot | Changed):
                    self._read = (), None  # all is told in full again
                if aside.answer is not None:
                    if not isinstance(aside.answer, Note) and prompt.kind is not Kind.COMPLAINT:
                        self._typed.clear()
                    return aside.answer
            self._show(prompt, view.question(prompt))

    def remember(self, words: str) -> None:
        """Take what the owner said with the command: who comes back to the question may let it stand."""
        self._told_before["words"] = words

    def refused(self, message: str) -> None:
        """Say why an answer could not be taken."""
        self._refused = True
        self._refuse(message)

    def tell(self, *lines: str) -> None:
        """Show lines that answer a key word."""
        self.face.show(Block(Look.SAID, line, "  ") for line in lines)

    def ask(self, label: str) -> str:
        """Return one line of text inside a key word's own questions; `back` there returns to the first question."""
        while True:
            line = self.face.ask(label)
            word = line.casefold()
            if word in ("back", "b"):
                raise _Aside(None)
            if word in ("leave", "q"):
                raise _Aside(Leave())
            if word in ("help", "h", "?"):
                self.tell("Type what is asked for. back, b: return to the question. leave, q: save and leave.")
            elif line:
                return line
            else:
                self._refuse("Enter alone is no answer; type it, or `back` to return to the question.")

    def pick(
        self, question: str, options: Sequence[Option], *, many: bool = False, read: Read | None = None
    ) -> tuple[str, ...]:
        """Return the chosen options' ids; the question and the options are shown unless `read` says they were."""
        if read is None:
            self.face.show(_question(question, options))
        label = _answer_label(options, many)
        while True:
            line = (read or self.ask)(label)
            from diagtree.terminal.typed import chosen  # once the first line was typed

            try:
                return chosen(line, options, many)
            except ValueError as error:
                self._refuse(str(error))

    def choose(self, question: str, options: Sequence[Option]) -> str:
        """Return what was chosen before anything is begun. Raises Interrupted where the person leaves instead."""
        self.face.show([*_question(question, options), Block(Look.KEYS, "help h  leave q")])
        return self.pick(question, options, read=self._before_a_walk)[0]

    def _before_a_walk(self, label: str) -> str:
        """Return one line where there is no case yet: a key word has nothing to act on, and is told so."""
        from diagtree.terminal.keywords import find

        while True:
            line = self.face.ask(label)
            said = find(line, Scene(tuple))
            if not line:
                self._refuse("Enter alone is no answer.")
            elif said is None:
                return line
            elif said[0].word == "leave":
                raise Interrupted("nothing was begun")
            elif said[0].word == "help":
                self.tell("Type the number of an answer, or its word. leave, q: leave; nothing is begun yet.")
            elif said[0].word == "back":
                self._refuse("There is nothing to go back to yet; `leave` leaves.")
            else:
                self._refuse(f"`{said[0].word}` is for a case, and none is begun yet; type an answer, or `leave`.")

    def pick_test(self, question: str, scene: Scene) -> Test | None:
        """Return the test chosen by name or by part of its name or words, None where there is none."""
        if not scene.tests:
            self.tell("There is no other test.")
            return None
        listed: list[str] = []
        while True:
            self.face.show([Block(Look.ASK, question), *view.options([_test_option(scene, one) for one in listed])])
            line = self.ask("Part of its name, or `list`").casefold()
            if line in scene.tests:
                return scene.tests[line]
            if line.isdigit() and 0 < int(line) <= len(listed):
                return scene.tests[listed[int(line) - 1]]
            found = _tests_like(scene, line)
            if len(found) == 1:
                return scene.tests[found[0]]
            if not found:
                self._refuse(f"No test has `{line}` in its name or words{did_you_mean(line, scene.tests)}")
            listed = found or listed

    def values(
        self,
        fields: Sequence[Field],
        *,
        read: Read | None = None,
        kept: dict[str, str] | None = None,
        before: Mapping[str, str] | None = None,
    ) -> Mapping[str, str]:
        """Return the values typed for `fields`, by name.

        kept : those typed already ("" was left out). before : what a word takes over from the last time.
        """
        values, before = {} if kept is None else kept, before or {}
        while missing := [one for one in fields if one.name not in values]:
            field = missing[0]
            try:
                text = (read or self.ask)(_label(field, before.get(field.name)))
            except _Aside as aside:
                if aside.answer == Back(1) and values:
                    values.popitem()  # the value before, not the answer before
                    continue
                raise
            from diagtree.terminal.typed import trouble

            if field.name in before and text.casefold() == _SAME:
                values[field.name] = before[field.name]
            elif field.optional and text.casefold().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'") in _NOT_KNOWN:
                values[field.name] = ""
            elif wrong := trouble(field, text):
                self._refuse(wrong)
            else:
                values[field.name] = text
        return {name: text for name, text in values.items() if text}

    def _form(self, prompt: Prompt, scene: Scene, read: Read) -> Answer:
        form = prompt.form
        if isinstance(form, Choice):
            picked = self.pick(prompt.ask, form.options, many=form.many, read=read)
            if self._look_again(form, picked):
                picked = self.pick(prompt.ask, form.options, many=form.many, read=read)
            return Chosen(picked)
        if isinstance(form, Fields):
            for field in form.fields:
                if field.name in self._typed:
                    self.tell(f"{_sentence(field.text)}: {self._typed[field.name] or _NONE} (as typed before)")
            if prompt.kind is not Kind.COMPLAINT:
                values = self.values(form.fields, read=read, kept=self._typed)
                if self._asked_back(prompt, scene, values):
                    values = self.values(form.fields, read=read, kept=self._typed)
                return Typed(values)
            said = self.values(form.fields, read=read, kept=self._typed, before=self._told_before)
            for field in form.fields:
                self._told_before.pop(field.name, None)
            self._told_before |= said
            return Typed(said)
        otherwise = "`not-done` leaves it out" if prompt.not_done else "`leave` comes back to it"
        return self._tick(form, scene, read, otherwise)

    def _asked_back(self, prompt: Prompt, scene: Scene, values: Mapping[str, str]) -> bool:
        """Ask once to look again at a number whose unit seems to be missing; it is to be typed anew then."""
        if prompt.kind is not Kind.READING or self._doubted or not self.attended:
            return False
        doubt = scene.doubt(prompt.key, values)
        if doubt is None:
            return False
        self._doubted = True
        del self._typed[doubt[0]]
        self._refuse(doubt[1])
        return True

    def _look_again(self, form: Choice, picked: tuple[str, ...]) -> bool:
        """Say once what speaks against the option picked; picked again it is taken."""
        doubt = next((one.doubt for one in form.options if one.id in picked and one.doubt), "")
        if not doubt or self._doubted or not self.attended:
            return False
        self._doubted = True
        word = next(one.id for one in form.options if one.doubt == doubt)
        self._refuse(f"Look again: {doubt}. `{word}` once more if it is so; the record shows this.")
        return True

    def _tick(self, tick: Tick, scene: Scene, read: Read, otherwise: str) -> Answer:
        from diagtree.walk.tick_says import trouble

        says = self._typed.get("says") or (read(_sentence(tick.says)) if tick.says else "")
        while not tick.good and (wrong := trouble(tick, says)):
            self._refuse(f"{wrong}.")
            says = read(_sentence(tick.says))
        if says:
            self._typed["says"] = says
        if tick.good and self.attended:
            return Ticked(tick.word, says)  # `yes` typed in full confirms it; anything else is refused
        while (word := read(f"Type `{tick.word}`")).casefold() != tick.word.casefold():
            self._refuse(f"`{word}` does not confirm it; type `{tick.word}` in full once it is so, else {otherwise}.")
        if tick.wait and self._too_soon(tick, scene):
            return self._tick(tick, scene, read, otherwise)
        return Ticked(tick.word, says)

    def _too_soon(self, tick: Tick, scene: Scene) -> bool:
        """Say once that a wait is confirmed before its time; the clock may have run before the step was shown."""
        went = scene.since()
        if self._doubted or not self.attended or went is None or went >= tick.wait:
            return False
        from diagtree.walk.approach import time_words

        self._doubted = True
        self._refuse(
            f"Only {time_words(went)} since the step before; at least {tick.wait:g} min are asked for. "
            f"Type `{tick.word}` again only if the clock ran before; the record shows the time."
        )
        return True

    def _read_just_now(self, scene: Scene) -> tuple[str, ...]:
        """Return the cautions that the step before showed, while nothing about the car has changed since."""
        cautions, standing = self._read
        return cautions if standing is not None and standing == scene.standing else ()

    def _reader(self, prompt: Prompt, scene: Scene) -> Read:
        from diagtree.terminal.keywords import find

        def read(label: str) -> str:
            while True:
                line = self.face.ask(label)
                if not line:
                    self._refuse("Enter alone is no answer.")
                elif _is_danger(line, prompt) or (said := find(line, scene)) is None:
                    return line
                elif not said[0].offered(prompt):
                    self._refuse(said[0].otherwise)
                else:
                    raise _Aside(said[0].say(self, prompt, scene, said[1]))

        return read

    def _show(self, prompt: Prompt, blocks: Iterable[Block]) -> None:
        from diagtree.terminal.keywords import key_line

        keys = key_line(prompt, narrow=self.face.narrow)
        self.face.show((*blocks, Block(Look.KEYS, keys)))

    def _refuse(self, message: str) -> None:
        self.face.show((Block(Look.REFUSED, message, "! "),))

    @staticmethod
    def _identity(prompt: Prompt) -> tuple[object, ...]:
        return prompt.kind, prompt.key, prompt.form


def _test_option(scene: Scene, test: str) -> Option:
    answer = f" ({scene.answered[test]})" if test in scene.answered else ""
    return Option(test, f"{test}: {scene.tests[test].ask}{answer}")


def _tests_like(scene: Scene, line: str) -> list[str]:
    """Return the tests whose name or words hold `line`, those not yet answered first; all for `list`."""
    found = [one for one in scene.tests if line == "list" or line in f"{one} {scene.tests[one].ask}".casefold()]
    return sorted(found, key=lambda one: one in scene.answered)


def _question(question: str, options: Sequence[Option]) -> list[Block]:
    return [Block(Look.ASK, question), *view.options(options)]


def _answer_label(options: Sequence[Option], many: bool) -> str:
    if any(option.danger for option in options):
        return "Numbers or words, commas between" if many else "Number or word"
    return "Answers, commas between" if many else "Answer"


def _is_danger(line: str, prompt: Prompt) -> bool:
    # A danger's word is never swallowed by a key word that happens to be spelt alike.
    form = prompt.form
    return isinstance(form, Choice) and any(option.danger and option.id == line.casefold() for option in form.options)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _label(field: Field, before: str | None = None) -> str:
    unit = f" ({field.unit})" if field.unit and field.unit not in field.text else ""
    words = f" [{'/'.join(field.words)}]" if field.words else ""
    left_out = f", or `{_NONE}`" if field.optional else ""
    same = f", or `{_SAME}`: {before}" if before else ""
    return f"{_sentence(field.text)}{unit}{words}{left_out}{same}"
