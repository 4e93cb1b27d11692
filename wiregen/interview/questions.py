"""The questions, in the words of the trade. A question that the answers so far make pointless is not asked."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wiregen import quantities

Answers = Mapping[str, str]
Check = Callable[[str], str | None]


def _always(answers: Answers) -> bool:
    return True


def _free(text: str) -> str | None:
    """Free text goes into a file between quotes, so it holds neither quotes nor control characters."""
    if any(ord(c) < 32 or c in '"\\' for c in text):
        return "write it without quotation marks, backslashes and control characters"
    return None if len(text) <= 60 else "write it in at most 60 characters"


def _needed(text: str) -> str | None:
    return _free(text) if text.strip() else "this needs an answer"


def _length(text: str) -> str | None:
    return _quantity(text, "m")


def _frequency(text: str) -> str | None:
    return _quantity(text, "Hz")


def _quantity(text: str, unit: str) -> str | None:
    try:
        value = quantities.parse(text, unit)
    except ValueError as error:
        return str(error)
    return None if value > 0 else f"this must be more than 0 {unit}"


def _count(text: str) -> str | None:
    return None if re.fullmatch(r"[2-4]", text) else "2, 3 or 4 fixed speeds"


@dataclass(frozen=True, slots=True)
class Question:
    """One question. With ``choices`` (word, meaning) the answer is one of the words, or its number in the list."""

    key: str
    text: str
    default: str
    choices: tuple[tuple[str, str], ...] = ()
    check: Check = _free
    asked: Callable[[Answers], bool] = _always


YES_NO = (("yes", ""), ("no", ""))


def _at_machine(answers: Answers) -> bool:
    return answers["field"] == "yes"


def _given_by(*ways: str) -> Callable[[Answers], bool]:
    return lambda answers: answers["speed"] in ways


QUESTIONS: tuple[Question, ...] = (
    Question("title", "What does the machine do? A title for the scheme", "", check=_needed),
    Question("drawing", "Drawing number", ""),
    Question(
        "practice",
        "Symbols and habits of which practice?",
        "iec",
        (("iec", "IEC 60617 symbols"), ("nfpa", "NFPA and ANSI habits")),
    ),
    Question(
        "drive",
        "Which kind of drive?",
        "compact",
        (
            ("compact", "six inputs, two analog inputs, two relays, no safe torque off"),
            ("extended", "eight inputs in two groups, three analog inputs, two relays"),
        ),
    ),
    Question(
        "safety",
        "What is the drive's safe torque off wired to?",
        "relay",
        (
            ("relay", "an emergency stop, through a safety relay in two channels"),
            ("linked", "nothing: linked at the drive, and said on the sheet"),
        ),
        asked=lambda answers: answers["drive"] == "extended",
    ),
    Question("cabinet", "What is the cabinet called in which the drive stands?", "Control cabinet", check=_needed),
    Question("field", "Is anything wired at the machine, outside the cabinet?", "yes", YES_NO),
    Question("machine", "What is that place called?", "Machine", check=_needed, asked=_at_machine),
    Question("route", "How long is the cable route from the cabinet to it?", "25 m", check=_length, asked=_at_machine),
    Question(
        "wired",
        "What do the contacts switch to the drive's inputs?",
        "plus",
        (("plus", "+24 V, wired as source: usual"), ("zero", "0 V, wired as sink")),
    ),
    Question(
        "start",
        "How is the motor started?",
        "buttons",
        (
            ("buttons", "a START and a STOP button (three-wire)"),
            ("switch", "one maintained contact: closed runs, open stops (two-wire)"),
        ),
    ),
    Question("reverse", "Does it run in both directions?", "no", YES_NO),
    Question(
        "stand",
        "Where do buttons and switches stand?",
        "machine",
        (("machine", "at the machine"), ("cabinet", "in the cabinet's door")),
        asked=_at_machine,
    ),
    Question("restart", "May it start by itself when the supply returns?", "no", YES_NO),
    Question(
        "trip",
        "What trips it from outside?",
        "winding",
        (("none", "nothing"), ("winding", "a thermostat in the winding"), ("pressure", "a pressure switch")),
    ),
    Question(
        "trip_at",
        "At what does that contact open?",
        "above its limit",
        check=_needed,
        asked=lambda answers: answers["trip"] != "none",
    ),
    Question(
        "speed",
        "How is the speed given?",
        "knob",
        (
            ("knob", "a potentiometer"),
            ("signal", "a 4-20 mA signal of a two-wire transmitter"),
            ("both", "a HAND/AUTO selector between potentiometer and 4-20 mA signal"),
            ("fixed", "fixed speeds, chosen by selectors"),
        ),
    ),
    Question(
        "measures",
        "What does the transmitter measure?",
        "0 to 10 bar",
        check=_needed,
        asked=_given_by("signal", "both"),
    ),
    Question(
        "lost",
        "What shall happen when that signal is lost?",
        "trip",
        (("trip", "the drive trips"), ("stop", "it stops"), ("hold", "it keeps its speed")),
        asked=_given_by("signal", "both"),
    ),
    Question("count", "How many fixed speeds?", "4", check=_count, asked=_given_by("fixed")),
    Question("highest", "Highest speed, as frequency", "50 Hz", check=_frequency),
    Question("fault", "Shall a lamp tell a fault?", "yes", YES_NO),
    Question("running", "Shall a lamp tell that it runs?", "yes", YES_NO),
)
