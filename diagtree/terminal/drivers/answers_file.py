"""Answers from a file: nobody is asked, nothing is guessed, and a missing answer ends the walk naming itself.

Accesses, conditions and kinds of procedure steps that the file does not name count as done; the absence of voltage must
be named, reading by reading. The walk stops at its first ending unless the file says how to go on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import MAKE_SAFE, NOT_DONE, Catalogue
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.answers_names import expected, wrong_names
from diagtree.terminal.answers_text import AnswersFile, Given, ProcedureSaid, Said
from diagtree.terminal.drivers import Scene
from diagtree.walk.answers import Answer, Chosen, Leave, NotDone, Note, Ticked, Typed
from diagtree.walk.ask_start import CLEAR_WORDS, LOOK_AGAIN, QUESTIONS
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Prompt, Tick

_ENDINGS = (Kind.CONCLUSION, Kind.HAND_OVER, Kind.REFER)
_ABSENCE = "absence"
_IS = "is"  # under `complaint`: which one the words mean


class AnswersFileDriver:
    """Answers every prompt from `file`, whose tests and procedures are those of `catalogue`.

    Raises KnowledgeError, with every mistake at its line, where the file names what does not exist.
    """

    advised = False

    def __init__(self, file: AnswersFile, catalogue: Catalogue) -> None:
        self._file = file
        self._catalogue = catalogue
        self._used: set[str] = set()
        self._noted: set[str] = set()
        self._begun: dict[str, int] = {}  # procedure to how often it was begun
        self._step: dict[str, int] = {}  # procedure to the step last asked for
        self._proofs = 0  # how many were run
        self._remains = 0  # how often it was chosen what comes next
        self._answered: dict[str, int] = {}  # test to `_remains` at its answer
        self._last = Place(file.name)
        if wrong := wrong_names(file, catalogue):
            raise KnowledgeError(f"{file.name}: {len(wrong)} mistake{'' if len(wrong) == 1 else 's'}", wrong)

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:  # noqa: ARG002 - a file looks nothing up
        if prompt.kind in _ENDINGS and not self._plays_on(prompt):
            return Leave()
        if (note := self._note(prompt)) is not None:
            return note
        if self._is_not_done(prompt):
            return NotDone("not done, says the answers file")
        return _BY_KIND[prompt.kind](self, prompt)

    def refused(self, message: str) -> None:
        raise WrongUse(f"{self._last}: {message}")

    def tell(self, *lines: str) -> None:
        """Nobody listens."""

    def unused(self) -> tuple[str, ...]:
        """Return a line for every answer that no step asked for."""
        rest = [(test, given.at) for test, given in self._file.answers.items() if test not in self._used]
        return tuple(f"{at}: the answer for `{test}` was not asked for" for test, at in rest)

    def _plays_on(self, prompt: Prompt) -> bool:
        known = self._file.choices
        return "go-on" in known or ("correction" in known and prompt.kind is Kind.CONCLUSION)

    def _note(self, prompt: Prompt) -> Note | None:
        said = self._file.notes.get(prompt.test or prompt.key)
        if said is None or prompt.kind not in (Kind.OUTCOME, Kind.READING) or prompt.test in self._noted:
            return None
        self._noted.add(prompt.test or prompt.key)
        return Note(said.text)

    def _is_not_done(self, prompt: Prompt) -> bool:
        given = self._file.answers.get(prompt.test or "")
        if given is None or given.word != NOT_DONE or not prompt.not_done or prompt.test is None:
            return False
        self._refuse_loop(prompt.test, given)
        self._used.add(prompt.test)
        return True

    # --- one kind of prompt each --------------------------------------------------------------------------------

    def _test(self, prompt: Prompt) -> Answer:
        test = self._catalogue.tests[prompt.test or prompt.key]
        given = self._file.answers.get(test.id)
        if given is None:
            wanted = expected(test.id, self._catalogue)
            raise WrongUse(f"{self._file.name}: no answer for `{test.id}`; expected {wanted}")
        self._refuse_loop(test.id, given)
        self._used.add(test.id)
        self._last = given.at
        if given.word == NOT_DONE:
            raise WrongUse(f"{given.at}: `{test.id}` cannot be `{NOT_DONE}`: it may stop the job; write what was seen")
        if isinstance(prompt.form, Fields):
            return Typed({field.name: self._reading(field, given, test.id) for field in prompt.form.fields})
        return Chosen((given.word or "",))

    def _refuse_loop(self, test: str, given: Given) -> None:
        """Refuse to give an answer twice that nobody asked for again: the tree would lead round for ever."""
        if self._answered.get(test) == self._remains:
            raise WrongUse(
                f"{given.at}: the walk comes back to `{test}`, which is answered: the tree leads round in a loop"
            )
        self._answered[test] = self._remains

    def _reading(self, field: Field, given: Given, test: str) -> str:
        if given.word is not None:
            return given.word
        if field.name not in given.readings:
            raise WrongUse(f"{given.at}: no reading `{field.name}` for `{test}`; expected a number in {field.unit}")
        return given.readings[field.name].text

    def _look(self, prompt: Prompt) -> Answer:
        said = self._file.look
        if said is None:
            return Chosen(("nothing",))
        self._last = said.at
        assert isinstance(prompt.form, Choice)
        if prompt.key == LOOK_AGAIN and said.text not in [option.id for option in prompt.form.options]:
            return Chosen(("nothing",))  # the file says what there was; it was found at the first look
        return Chosen(self._options(prompt, (said,)))

    def _already(self, prompt: Prompt) -> Answer:
        said = (*self._file.already.get("open", ()), *self._file.already.get("isolated", ()))
        named = [one if one.text != "yes" else Said("isolated", one.at) for one in said if one.text != "no"]
        self._last = named[0].at if named else self._last
        return Chosen(self._options(prompt, named) or ("nothing",))

    def _procedure(self, prompt: Prompt) -> Answer:
        tick = prompt.form
        assert isinstance(tick, Tick)
        run, kind = self._run_of(prompt)
        said = run.says.get(kind) if run else None
        self._last = said.at if said else self._last
        unsaid = tick.good[0] if tick.good else "not said" if tick.says else ""  # not named counts as done
        return Ticked(tick.word, said.text if said else unsaid)

    def _absence(self, prompt: Prompt) -> Answer:
        form = prompt.form
        assert isinstance(form, Fields)
        run, _ = self._run_of(prompt)
        pairs = ", ".join(field.text for field in form.fields)
        if run is None or not run.absence:
            raise WrongUse(
                f"{self._file.name}: no reading for the absence of voltage; expected `procedures: {{{MAKE_SAFE}: "
                f"{{absence: [...]}}}}`, {len(form.fields)} numbers in V, for {pairs}"
            )
        self._last = run.absence[0].at
        if len(run.absence) != len(form.fields):
            count = len(run.absence)
            raise WrongUse(f"{self._last}: `absence` has {count} readings; expected one in V each for {pairs}")
        return Typed({field.name: said.text for field, said in zip(form.fields, run.absence, strict=True)})

    def _fact(self, prompt: Prompt) -> Answer:
        said = self._file.facts.get(prompt.key) or self._file.facts.get(prompt.key.removeprefix("vehicle."))
        if said is None:
            raise WrongUse(
                f"{self._file.name}: the profile does not know `{prompt.key}`; write `facts: {{{prompt.key}: VALUE}}`, "
                "or `compare` as its value"
            )
        self._last = said.at
        return Typed({"value": said.text, "source": "the answers file"})

    def _complaint(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Fields)
        given = self._file.complaint
        self._last = next((said.at for said in given.values()), self._last)
        return Typed({name: said.text for name, said in given.items() if name != _IS})

    def _sort(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Choice)
        said = self._file.complaint.get(_IS)
        if said is not None:
            self._last = said.at
            return Chosen(self._options(prompt, (said,)))
        return Chosen((prompt.form.options[0].id if prompt.key == CLEAR_WORDS else QUESTIONS,))

    def _voltage_found(self, prompt: Prompt) -> Answer:
        runs = len(self._file.procedures.get(MAKE_SAFE, ()))
        said = self._file.choices.get("voltage-found")
        if said is None and self._begun.get(MAKE_SAFE, 0) < runs:
            return Chosen(self._options(prompt, (Said("repeat", self._last),)))
        if said is None:
            raise WrongUse(
                f"{self._last}: voltage was found: the car counts as live and the walk stops here; measured again, the "
                f"next entry of the list `procedures: {{{MAKE_SAFE}: [...]}}` is read"
            )
        self._last = said.at
        return Chosen(self._options(prompt, (said,)))

    def _ending(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Choice)
        return Chosen((prompt.form.options[0].id,))  # correct or advise, go on in the other tree, refer

    def _correction(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Tick)
        said = self._file.choices.get("correction")
        return Ticked(prompt.form.word, said.text if said else "not said")

    def _proof(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Fields)
        given = self._proof_given(prompt)
        self._proofs += 1
        names = [field.name for field in prompt.form.fields]
        for name in names:
            if name not in given:
                raise WrongUse(f"{self._last}: the proof lacks `{name}`; expected {', '.join((*names, 'result'))}")
        return Typed({name: given[name].text for name in names})

    def _proof_result(self, prompt: Prompt) -> Answer:
        self._proofs -= 1
        given = self._proof_given(prompt)
        self._proofs += 1
        if "result" not in given:
            raise WrongUse(f"{self._last}: the proof lacks `result`; expected fixed, not-fixed or partly")
        return Chosen(self._options(prompt, (given["result"],)))

    def _proof_given(self, prompt: Prompt) -> Mapping[str, Said]:
        if self._proofs >= len(self._file.proof):
            raise WrongUse(f"{self._file.name}: nothing under `proof` for the proof of `{prompt.key}`")
        given = self._file.proof[self._proofs]
        self._last = next((said.at for said in given.values()), self._last)
        return given

    def _remaining(self, prompt: Prompt) -> Answer:
        if self._remains >= len(self._file.remaining):
            assert isinstance(prompt.form, Choice)
            known = ", ".join(option.id for option in prompt.form.options)
            raise WrongUse(f"{self._file.name}: nothing under `remaining` for what to do next; expected one of {known}")
        said = self._file.remaining[self._remains]
        self._remains += 1
        self._last = said.at
        return Chosen(self._options(prompt, (said,)))

    def _accept(self, prompt: Prompt) -> Answer:  # noqa: ARG002 - like its siblings
        return Chosen(("accept",))

    def _tick(self, prompt: Prompt) -> Answer:
        assert isinstance(prompt.form, Tick)
        return Ticked(prompt.form.word, "not said" if prompt.form.says else "")

    # --- small help ---------------------------------------------------------------------------------------------

    def _options(self, prompt: Prompt, said: Sequence[Said]) -> tuple[str, ...]:
        assert isinstance(prompt.form, Choice)
        known = [option.id for option in prompt.form.options]
        for one in said:
            if one.text not in known:
                hint = did_you_mean(one.text, known)
                raise WrongUse(f"{one.at}: `{one.text}` is not one of {', '.join(known)}{hint}")
        return tuple(one.text for one in said)

    def _run_of(self, prompt: Prompt) -> tuple[ProcedureSaid | None, str]:
        """Return what the file says about this run of a procedure, and the kind of the step that is due.

        A step that does not come after the last one begins another run: the next entry of the file's list.
        """
        procedure, _, number = prompt.key.rpartition(":")
        index = int(number)
        if index <= self._step.get(procedure, len(self._catalogue_steps(procedure))):
            self._begun[procedure] = self._begun.get(procedure, 0) + 1
        self._step[procedure] = index
        steps = self._catalogue_steps(procedure)
        kind = steps[index] if 0 <= index < len(steps) else ""
        runs = self._file.procedures.get(procedure, ())
        run = self._begun[procedure] - 1
        return (runs[run] if run < len(runs) else None), kind

    def _catalogue_steps(self, procedure: str) -> tuple[str, ...]:
        found = self._catalogue.procedures.get(procedure)
        return tuple(step.kind for step in found.steps) if found else ()


_BY_KIND: dict[Kind, Callable[[AnswersFileDriver, Prompt], Answer]] = {
    Kind.LOOK: AnswersFileDriver._look,
    Kind.COMPLAINT: AnswersFileDriver._complaint,
    Kind.SORT: AnswersFileDriver._sort,
    Kind.ALREADY: AnswersFileDriver._already,
    Kind.OPEN: AnswersFileDriver._tick,
    Kind.CLOSE: AnswersFileDriver._tick,
    Kind.PROCEDURE: AnswersFileDriver._procedure,
    Kind.ABSENCE: AnswersFileDriver._absence,
    Kind.VOLTAGE_FOUND: AnswersFileDriver._voltage_found,
    Kind.CONDITIONS: AnswersFileDriver._tick,
    Kind.FACT: AnswersFileDriver._fact,
    Kind.OUTCOME: AnswersFileDriver._test,
    Kind.READING: AnswersFileDriver._test,
    Kind.CLOSE_READING: AnswersFileDriver._accept,
    Kind.DANGER: AnswersFileDriver._tick,
    Kind.CONCLUSION: AnswersFileDriver._ending,
    Kind.HAND_OVER: AnswersFileDriver._ending,
    Kind.REFER: AnswersFileDriver._ending,
    Kind.CORRECTION: AnswersFileDriver._correction,
    Kind.PROOF: AnswersFileDriver._proof,
    Kind.PROOF_RESULT: AnswersFileDriver._proof_result,
    Kind.REMAINING: AnswersFileDriver._remaining,
}
