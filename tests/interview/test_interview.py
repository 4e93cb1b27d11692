"""The questionnaire: whatever is answered, the scheme that it writes passes the tool's own checks."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

import wiregen
from wiregen import profiles, scheme
from wiregen.interview import QUESTIONS, Answers, Question, answered, scheme_text
from wiregen.interview.answering import chosen

CHOICES = [q for q in QUESTIONS if q.choices]


def given(**words: str) -> Answers:
    """Answers with these words, and what stands in brackets elsewhere."""
    return answered(lambda q: words.get(q.key) or q.default or "Wash water pump", lambda says: pytest.fail(says))


def every_word() -> Iterator[dict[str, str]]:
    """Every word of every question, and 60 chance combinations of all."""
    for question in CHOICES:
        yield from ({question.key: word} for word, _ in question.choices)
    chance = random.Random(7)
    for _ in range(60):
        yield {q.key: chance.choice(q.choices)[0] for q in CHOICES} | {"count": chance.choice("234")}


@pytest.mark.parametrize("words", list(every_word()), ids=lambda w: "-".join(w.values()))
def test_every_answer_gives_a_sound_scheme(words: dict[str, str]) -> None:
    text = scheme_text(given(**words))
    design = wiregen.design(scheme.read_text(text, "begun.yaml", profiles=profiles.load()))
    # Buttons at the machine share one cable; an emergency stop alone stops the machine whatever that cable does.
    usual = {"start": "buttons", "field": "yes", "stand": "machine"}
    emergency_stop = words.get("drive") == "extended" and words.get("safety", "relay") == "relay"
    shared = all(words.get(key, word) == word for key, word in usual.items()) and not emergency_stop
    assert {f.code for f in design.findings if f.severity != "note"} == ({"start-beside-stop"} if shared else set())
    assert design.allocation.status == "optimal"
    assert design.allocation.unplaced == ()


def test_the_scheme_does_what_was_answered() -> None:
    text = scheme_text(given(wired="zero", start="switch", reverse="yes", speed="fixed", count="3", restart="yes"))
    model = scheme.read_text(text, "begun.yaml", profiles=profiles.load()).model
    control = model.control["-TA1"]
    assert control.inputs is not None
    assert control.inputs.wired == "sink"
    assert control.restart == "allowed"
    assert control.run is not None
    run = control.run.named[""]
    assert (run.method, run.forward is not None, run.reverse is not None) == ("two-wire", True, True)
    assert [r.preset for r in control.speed.values()] == ["16.67 Hz", "33.33 Hz", "50 Hz"]
    assert control.select is not None
    assert list(control.select.when) == ["00", "10", "01", "11"]


def test_pointless_questions_are_not_asked() -> None:
    asked: list[str] = []

    def ask(question: Question) -> str:
        asked.append(question.key)
        return {"field": "no", "speed": "knob", "trip": "none"}.get(question.key) or question.default or "x"

    answered(ask, lambda says: None)
    assert not {"machine", "route", "stand", "measures", "lost", "count", "trip_at"} & set(asked)


@pytest.mark.parametrize(
    ("key", "wrong", "says"),
    [
        ("route", "far", "is not a quantity"),
        ("route", "0 m", "more than 0 m"),
        ("highest", "50 m", "is not in Hz"),
        ("title", "", "needs an answer"),
        ("title", 'the "big" one', "without quotation marks"),
        ("drive", "huge", "answer compact or extended"),
        ("trip", "9", "answer none, winding or pressure"),
    ],
)
def test_wrong_answers_are_asked_again(key: str, wrong: str, says: str) -> None:
    told: list[str] = []
    left = {key: [wrong]}

    def ask(question: Question) -> str:
        return left[question.key].pop() if left.get(question.key) else question.default or "x"

    words = answered(ask, told.append)
    assert len(told) == 1
    assert says in told[0]
    assert words[key] != wrong


def test_words_beginnings_and_numbers_are_understood() -> None:
    trip = next(q for q in QUESTIONS if q.key == "trip")
    assert [chosen(trip, t) for t in ("winding", "W", "2", "PRESS")] == ["winding", "winding", "winding", "pressure"]
    assert [chosen(trip, t) for t in ("", "0", "4", "x")] == [None] * 4
