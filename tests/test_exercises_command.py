"""The command that prints exercises and answers, each into files of their own."""

import json
from pathlib import Path

import pypdf

from tests.commands import ROOT, TOWELS, contents, run
from tests.project.worked import spec_text

SCARF = ROOT / "specs" / "twill-scarf.yaml"


def spec_with(tmp_path, exercises, **changes):
    spec = tmp_path / "cloth.yaml"
    spec.write_text(spec_text(exercises=exercises, **changes), "utf-8")
    return spec


def names(result):
    return [Path(line).name for line in result.stdout.split("\n") if line]


def test_exercises_and_answers_are_files_of_their_own(tmp_path):
    result = run("exercises", SCARF, "-o", tmp_path)
    assert result.exit_code == 0, result.stderr
    written = names(result)
    assert {"twill-scarf.exercises.pdf", "twill-scarf.answers.pdf"} <= set(written)
    pages = {
        name: len(pypdf.PdfReader(tmp_path / name).pages) for name in written if ".pdf" in name
    }
    asked = [name for name in written if name.startswith("twill-scarf-exercise-")]
    told = [name for name in written if name.startswith("twill-scarf-answer-")]
    assert pages["twill-scarf.exercises.pdf"] == len(asked)
    assert pages["twill-scarf.answers.pdf"] == len(told)
    assert set(written) == set(contents(tmp_path))


def test_the_spec_travels_with_the_answers_and_never_with_the_exercises(tmp_path):
    run("exercises", SCARF, "-o", tmp_path)
    inside = {
        name: list(pypdf.PdfReader(tmp_path / f"twill-scarf.{name}.pdf").attachments)
        for name in ("exercises", "answers")
    }
    assert inside == {"exercises": [], "answers": ["twill-scarf.yaml"]}
    source = SCARF.read_bytes()
    for name, data in contents(tmp_path).items():
        assert source not in data
        if name.startswith("twill-scarf-exercise-"):
            assert b"urn:x-loomfolio:source" not in data
    run("exercises", SCARF, "-o", tmp_path, "--no-spec")
    answers = pypdf.PdfReader(tmp_path / "twill-scarf.answers.pdf")
    assert not list(answers.attachments)


def test_the_same_spec_gives_the_same_files(tmp_path):
    for name in ("one", "two"):
        run("exercises", SCARF, "-o", tmp_path / name)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_paper_format_and_needs_are_as_in_print(tmp_path):
    spec = spec_with(tmp_path, [{"exercise": "drawdown"}])
    options = ["--paper", "A5", "--format", "pdf", "--left-handed"]
    result = run("exercises", spec, "-o", tmp_path / "o", *options)
    assert names(result) == [
        "cloth.left-handed.exercises.pdf",
        "cloth.left-handed.answers.pdf",
    ]
    page = pypdf.PdfReader(tmp_path / "o" / "cloth.left-handed.exercises.pdf").pages[0]
    # ISO 216: A5 is 148 x 210 mm, and a point is 1/72 in.
    assert abs(float(page.mediabox.width) - 148 / 25.4 * 72) < 0.1


def test_without_exercises_it_says_how_to_ask_for_some(tmp_path):
    result = run("exercises", TOWELS, "-o", tmp_path)
    assert result.exit_code == 1
    assert "add one under `exercises:`" in result.stderr
    assert not contents(tmp_path)


def test_an_error_stops_the_print_and_a_warning_does_not(tmp_path):
    spec = spec_with(tmp_path, [{"exercise": "threading", "blanks": "400"}])
    result = run("exercises", spec, "-o", tmp_path / "o")
    assert result.exit_code == 1
    assert "asks for 400 blanks; the threading shown has 12 cells" in result.stderr
    assert not (tmp_path / "o").exists()
    table = {"action": "table", "shafts": "4"}
    spec = spec_with(tmp_path, [{"exercise": "tie-up"}, {"exercise": "drawdown"}], loom=table)
    result = run("exercises", spec, "-o", tmp_path / "o", "--format", "svg")
    assert result.exit_code == 0
    assert "the exercise is left out" in result.stderr
    # The second keeps its number, as on a loom on which the first can be made.
    assert names(result) == ["cloth-exercise-2-1.svg", "cloth-answer-2-1.svg"]


def test_exercises_do_not_stand_in_the_plan(tmp_path):
    """What a student is to find out is no part of the plan as data, and does not change it."""
    spec = spec_with(tmp_path, [{"exercise": "drawdown"}])
    plans = [json.loads(run("plan", spec, "--json", "--no-drawdown").stdout)]
    spec.write_text(spec_text(), "utf-8")
    plans.append(json.loads(run("plan", spec, "--json", "--no-drawdown").stdout))
    for plan in plans:
        plan["project"].pop("fingerprint", None)
        plan.pop("fingerprint", None)
    assert plans[0] == plans[1]
