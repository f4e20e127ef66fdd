"""The reading of a project spec: YAML text, notation, models, findings with their places.

This room knows what a weaver may write and where it stands in the file. It works nothing out.
"""

from cards.spec.class_models import ClassOf, Seat
from cards.spec.conventions import Conventions
from cards.spec.cost_models import Costs, Pace
from cards.spec.exercise_models import EXERCISES, ExercisePart, SpecExercise
from cards.spec.fibre_notation import Fibre
from cards.spec.findings import Finding, Level, Place
from cards.spec.kept_source import KeptSource
from cards.spec.layer_models import DoubleWeave
from cards.spec.layer_notation import JoinText, WeaveText
from cards.spec.measured_models import Measured
from cards.spec.models import (
    Allowances,
    Cloth,
    Draft,
    Expect,
    Fringe,
    Given,
    Loom,
    PieceKind,
    ProjectInfo,
    Section,
    Selvedges,
    Shrinkage,
    Spec,
    Warping,
    Yarn,
)
from cards.spec.paper import PaperSize, half_of, parse_paper_size
from cards.spec.paper_models import Paper
from cards.spec.pattern_models import Pattern
from cards.spec.places import Places
from cards.spec.read import Reading, read_source, read_spec
from cards.spec.refusal import NotationError
from cards.spec.schema import spec_schema
from cards.spec.size_models import YarnSize
from cards.spec.size_systems import SizeParts
from cards.spec.sley_models import Sley
from cards.spec.uses import USES, Use
from cards.spec.yarn_notation import Label, Price, PutUp

__all__ = [
    "EXERCISES",
    "USES",
    "Allowances",
    "ClassOf",
    "Cloth",
    "Conventions",
    "Costs",
    "DoubleWeave",
    "Draft",
    "ExercisePart",
    "Expect",
    "Fibre",
    "Finding",
    "Fringe",
    "Given",
    "JoinText",
    "KeptSource",
    "Label",
    "Level",
    "Loom",
    "Measured",
    "NotationError",
    "Pace",
    "Paper",
    "PaperSize",
    "Pattern",
    "PieceKind",
    "Place",
    "Places",
    "Price",
    "ProjectInfo",
    "PutUp",
    "Reading",
    "Seat",
    "Section",
    "Selvedges",
    "Shrinkage",
    "SizeParts",
    "Sley",
    "Spec",
    "SpecExercise",
    "Use",
    "Warping",
    "WeaveText",
    "Yarn",
    "YarnSize",
    "half_of",
    "parse_paper_size",
    "read_source",
    "read_spec",
    "spec_schema",
]
