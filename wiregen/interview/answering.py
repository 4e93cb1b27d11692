"""Asking the questions one after another, and understanding what is answered."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from wiregen.interview.questions import QUESTIONS, Answers, Question

#: Puts a question and gives back what was answered, the default where nothing was.
Ask = Callable[[Question], str]
#: Says why an answer will not do.
Tell = Callable[[str], None]
#: So often a question is put; a pipe that never gives a fit answer would be asked for ever.
_PATIENCE = 100


class Unanswered(Exception):
    """A question that was put again and again; its text."""


def answered(ask: Ask, tell: Tell, questions: Sequence[Question] = QUESTIONS) -> Answers:
    """The answers by key; a question is put again until its answer will do. A question not asked has its default."""
    found: dict[str, str] = {}
    for question in questions:
        found[question.key] = _one(question, ask, tell) if question.asked(found) else question.default
    return found


def _one(question: Question, ask: Ask, tell: Tell) -> str:
    for _ in range(_PATIENCE):
        text = ask(question).strip()
        if question.choices:
            word = chosen(question, text)
            if word is not None:
                return word
            tell(f"answer {_listed([w for w, _ in question.choices])}, or the number of one of them")
            continue
        says = question.check(text)
        if says is None:
            return text
        tell(says)
    raise Unanswered(question.text)


def chosen(question: Question, text: str) -> str | None:
    """The word that ``text`` means: the word itself, its beginning if only one begins so, or its number."""
    words = [word for word, _ in question.choices]
    lowered = text.lower()
    if lowered in words:
        return lowered
    if lowered.isdigit() and 1 <= int(lowered) <= len(words):
        return words[int(lowered) - 1]
    begun = [word for word in words if lowered and word.startswith(lowered)]
    return begun[0] if len(begun) == 1 else None


def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"
