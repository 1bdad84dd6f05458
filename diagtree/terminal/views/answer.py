"""An answer in words, as somebody looking over the technician's shoulder would see it typed."""

from __future__ import annotations

from diagtree.walk.answers import Answer, Chosen, NotDone, Note, Ticked, Typed
from diagtree.walk.prompts import Choice, Fields, Prompt


def words(prompt: Prompt, answer: Answer) -> str:
    """Return what was answered to `prompt`."""
    if isinstance(answer, Chosen) and isinstance(prompt.form, Choice):
        texts = {option.id: option.text for option in prompt.form.options}
        return ", ".join(texts[one] for one in answer.options)
    if isinstance(answer, Typed) and isinstance(prompt.form, Fields):
        typed = [(field.text, answer.values[field.name]) for field in prompt.form.fields if field.name in answer.values]
        return ", ".join(f"{text}: {value}" for text, value in typed)
    if isinstance(answer, Ticked):
        return f"{answer.word}: {answer.says}" if answer.says else answer.word
    if isinstance(answer, Note):
        return f"note: {answer.text}"
    if isinstance(answer, NotDone):
        return f"not done: {answer.reason}"
    return type(answer).__name__.lower()
