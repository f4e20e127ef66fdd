"""Exercises from the project: what is given, what is left blank, and the answer apart from it.

An `Exercise` holds what the student sees and what the teacher sees as two things that share
nothing, so that a sheet drawn from the one cannot give away the other.
"""

from cards.exercises.exercise import Answer, Exercise, Field, ShownDraft, Sum, Sums
from cards.exercises.made import exercise_findings, exercises_of

__all__ = [
    "Answer",
    "Exercise",
    "Field",
    "ShownDraft",
    "Sum",
    "Sums",
    "exercise_findings",
    "exercises_of",
]
