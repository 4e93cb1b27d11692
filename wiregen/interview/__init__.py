"""Beginning a scheme by being asked how the motor is started and stopped, who gives its speed, and where things are."""

from __future__ import annotations

from wiregen.interview.answering import Ask, Unanswered, answered
from wiregen.interview.questions import QUESTIONS, Answers, Question
from wiregen.interview.writing import scheme_text

__all__ = ["QUESTIONS", "Answers", "Ask", "Question", "Unanswered", "answered", "scheme_text"]
