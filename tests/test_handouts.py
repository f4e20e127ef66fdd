"""The class: a folio for every seat, for its own loom, units, paper and eyes, and the teacher's."""

import json
import math
import re
from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import pytest
import yaml

from cards.needs import NEEDS, Needs
from cards.project import work_out
from cards.project.seats import work_out_seats
from cards.spec import read_source
from cards.spec.class_models import parse_needs
from layouts import files
from layouts.folio import frame_of
from layouts.handouts import print_handouts
from layouts.sheets.teacher_sheet import draw_teacher_sheet
from layouts.worked import work_out_class
from tests.commands import contents, run
from tests.project.worked import spec_text
from tests.sheets.looks import faults
from tests.worked_specs import FOLDER

MAT = FOLDER / "class-mat.yaml"
SEATS = {seat["seat"]: seat for seat in yaml.safe_load(MAT.read_text("utf-8"))["class"]["seats"]}
LOOMS = {
    each["name"]: each
    for each in yaml.safe_load((FOLDER / "looms.yaml").read_text("utf-8"))["looms"]
}


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    folder = tmp_path_factory.mktemp("handouts")
    result = run("handouts", MAT, "-o", folder)
    assert result.exit_code == 0, result.stderr
    return folder, result


def reader(printed, name):
    return pypdf.PdfReader(printed[0] / f"class-mat.{name}.pdf")


def text_of(pages):
    return [" ".join(page.extract_text().split()) for page in pages]


def slug(seat):
    return f"seat-{seat.replace(' ', '-')}"


def test_every_seat_has_its_files_and_the_teacher_hers(printed):
    folder, result = printed
    pdfs = {path.name for path in folder.glob("*.pdf")}
    wanted = {f"class-mat.{slug(seat)}.pdf" for seat in SEATS}
    wanted |= {f"class-mat.{slug(seat)}.exercises.pdf" for seat in SEATS}
    assert pdfs == {*wanted, "class-mat.teacher.pdf"}
    assert sorted(result.stdout.split()) == sorted(map(str, folder.iterdir()))
    pages = sum(len(pypdfium2.PdfDocument(path)) for path in folder.glob("*.pdf"))
    assert len(list(folder.glob("*.svg"))) == pages


@pytest.mark.parametrize("seat", SEATS)
def test_every_page_says_for_which_seat_it_is(printed, seat):
    for name in (slug(seat), f"{slug(seat)}.exercises"):
        for words in text_of(reader(printed, name).pages):
            assert f"seat: {seat}" in words


@pytest.mark.parametrize("seat", SEATS)
def test_a_seat_has_its_own_paper_and_its_own_loom(printed, seat):
    # ISO 216 and ANSI/ASME Y14.1: A4 and A5 in mm, Letter in inches.
    sizes = {"A4": (210 / 25.4, 297 / 25.4), "A5": (148 / 25.4, 210 / 25.4), "Letter": (8.5, 11.0)}
    paper = SEATS[seat].get("paper", "A4")
    paper = paper["size"] if isinstance(paper, dict) else paper
    pages = reader(printed, slug(seat)).pages
    for page in pages:
        box = page.mediabox
        found = (float(box.width) / 72, float(box.height) / 72)
        assert found == pytest.approx(sizes[paper], abs=0.01)
    cards = [words for words in text_of(pages) if SEATS[seat]["loom"] in words]
    assert len(cards) >= 4
    others = [name for name in LOOMS if name != SEATS[seat]["loom"]]
    assert not any(name in words for words in text_of(pages) for name in others)


@pytest.mark.parametrize("seat", SEATS)
def test_the_figures_of_a_seat_are_those_of_the_plan_on_its_loom(printed, seat):
    loom = SEATS[seat]["loom"]
    plan = json.loads(run("plan", MAT, "--json", "--loom", loom).stdout)
    words = " ".join(text_of(reader(printed, slug(seat)).pages))
    long = plan["warp"]["length_mm"]
    metric = f"{long / 1000:.2f} m"
    yards = long / 914.4
    assert metric in words or f"{math.floor(yards)} " in words
    assert f"Total {plan['warp']['ends']} ends" in words
    first = "imperial" if SEATS[seat].get("units") == "imperial" else "metric"
    assert f"· {first}" in words


def test_large_print_is_large_on_every_page_and_nowhere_else(printed):
    for seat, wants in SEATS.items():
        large = "large print" in wants.get("needs", [])
        for name in (slug(seat), f"{slug(seat)}.exercises"):
            document = pypdfium2.PdfDocument(printed[0] / f"class-mat.{name}.pdf")
            for page in document:
                text = page.get_textpage()
                sizes = [
                    pypdfium2.raw.FPDFText_GetFontSize(text.raw, index)
                    for index, character in enumerate(text.get_text_range())
                    if not character.isspace()
                ]
                assert (min(sizes) >= 17.99) == large


def test_no_colour_is_in_the_files_of_a_grey_seat(printed):
    for path in printed[0].glob("class-mat.seat-long-wall*.svg"):
        found = set(re.findall(r"#[0-9a-fA-F]{6}\b", path.read_text("utf-8")))
        assert found <= {"#000000", "#ffffff"}
    other = (printed[0] / "class-mat.seat-window-yarn-list-1.svg").read_text("utf-8")
    assert "#44546a" in other


def test_the_answers_are_with_the_teacher_and_nowhere_else(printed):
    for seat in SEATS:
        for name in (slug(seat), f"{slug(seat)}.exercises"):
            assert "Answers" not in " ".join(text_of(reader(printed, name).pages))
    teacher = text_of(reader(printed, "teacher").pages)
    assert teacher[0].startswith("Teacher's sheet")
    for seat in SEATS:
        answers = [words for words in teacher[1:] if f"seat: {seat}" in words]
        assert len(answers) == 5
        assert all("Answers" in words for words in answers)


def test_the_spec_is_in_the_teachers_file_alone(printed):
    source = MAT.read_bytes()
    attached = reader(printed, "teacher").attachments
    assert source in [data for each in attached.values() for data in each]
    for seat in SEATS:
        for name in (slug(seat), f"{slug(seat)}.exercises"):
            assert not reader(printed, name).attachments
    for path in printed[0].glob("class-mat.seat-*.svg"):
        assert "long countermarch, needs" not in path.read_text("utf-8")


def test_no_spec_leaves_it_out_of_the_teachers_file_too(tmp_path):
    run("handouts", MAT, "-o", tmp_path, "--format", "pdf", "--no-spec")
    data = (tmp_path / "class-mat.teacher.pdf").read_bytes()
    assert not pypdf.PdfReader(BytesIO(data)).attachments


def test_the_teacher_has_one_table_of_all_seats(printed):
    words = text_of(reader(printed, "teacher").pages)[0]
    assert "Monday class" in words
    assert "2026-09-07" in words
    for seat, wants in SEATS.items():
        row = words.split(f" {seat} ", 1)[1]
        assert LOOMS[wants["loom"]]["name"] in words
        pages = len(reader(printed, slug(seat)).pages)
        pages += len(reader(printed, f"{slug(seat)}.exercises").pages)
        assert f"{pages} pages:" in row
        for need in wants.get("needs", []) if isinstance(wants.get("needs"), list) else []:
            assert need in row
    assert words.count("handed out") == len(SEATS)
    assert "Letter, bound left · large print" in words


def test_the_teacher_buys_yarn_for_all_seats(printed):
    """Add the yarn of every seat up from the plans of their looms, and count the packages."""
    words = text_of(reader(printed, "teacher").pages)[0]
    plans = {
        seat: json.loads(run("plan", MAT, "--json", "--loom", wants["loom"]).stdout)
        for seat, wants in SEATS.items()
    }
    for key, name in (("slate", "2-ply wool, slate"), ("sand", "2-ply wool, sand")):
        grams = {
            seat: next(each["buy_g"] for each in plan["yarns"] if each["yarn"] == key)
            for seat, plan in plans.items()
        }
        part = words.split(name, 1)[1]
        for seat, mass in grams.items():
            assert f"{seat} {5 * math.ceil(mass / 5 - 1e-9)} g" in part
        # Sold by 100 g, as looms.yaml says.
        packages = math.ceil(sum(grams.values()) / 100)
        assert f"buy {packages} × 100 g, EUR {packages * 9.80:.2f}" in part


def test_the_warps_of_the_looms_are_compared_in_the_teachers_units(printed):
    words = text_of(reader(printed, "teacher").pages)[0]
    table = words.split("What differs from loom to loom", 1)[1]
    for seat, wants in SEATS.items():
        plan = json.loads(run("plan", MAT, "--json", "--loom", wants["loom"]).stdout)
        assert f"{seat} {plan['warp']['length_mm'] / 1000:.2f} m" in table


def test_the_same_class_gives_the_same_bytes(printed, tmp_path):
    run("handouts", MAT, "-o", tmp_path)
    assert contents(tmp_path) == contents(printed[0])


# ---- What may go wrong


def with_class(tmp_path, seats, **changes):
    path = tmp_path / "x.yaml"
    path.write_text(spec_text(**{"class": {"seats": seats}}, **changes))
    return path


def test_a_spec_without_a_class_is_told_what_to_add(tmp_path):
    path = tmp_path / "x.yaml"
    path.write_text(spec_text())
    result = run("handouts", path, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert "there is no class in it" in result.stderr
    assert not (tmp_path / "out").exists()


def test_nothing_is_printed_while_one_seat_has_an_error(tmp_path):
    seats = [{"seat": "window"}, {"seat": "door", "needs": "large print", "paper": "A5"}]
    result = run("handouts", with_class(tmp_path, seats), "-o", tmp_path / "out")
    assert result.exit_code == 1
    assert "for seat 'door': the paper leaves" in result.stderr
    assert result.stderr.endswith("not printed; mend the errors first\n")
    assert not (tmp_path / "out").exists()


def test_a_full_disk_leaves_all_older_handouts_whole(tmp_path, monkeypatch):
    seats = [{"seat": "window"}, {"seat": "door", "units": "metric"}]
    path = with_class(tmp_path, seats)
    out = tmp_path / "out"
    assert run("handouts", path, "-o", out).exit_code == 0
    before = contents(out)
    path.write_text(path.read_text().replace("A plain cloth", "Another cloth"))
    calls = []

    def full(handle):
        calls.append(handle)
        if len(calls) > 5:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    result = run("handouts", path, "-o", out)
    assert result.exit_code == 1
    assert "No space left" in result.stderr
    assert contents(out) == before


def test_a_file_of_looms_has_no_class():
    result = run("handouts", FOLDER / "looms.yaml")
    assert result.exit_code == 2
    assert "there is no class in it" in result.stderr


def test_names_of_files_never_clash(tmp_path):
    seats = [{"seat": name} for name in ("seat 1", "Seat-1", "seat 1!", "1", "?")]
    path = with_class(tmp_path, seats)
    result = run("handouts", path, "-o", tmp_path / "out", "--format", "pdf")
    assert result.exit_code == 0, result.stderr
    names = [Path(line).name for line in result.stdout.split("\n") if line]
    assert len(names) == len(set(names)) == len(seats) + 1


def test_pages_of_a_seat_that_are_no_more_are_taken_away(tmp_path):
    out = tmp_path / "out"
    small = with_class(tmp_path, [{"seat": "window", "paper": "A5"}])
    run("handouts", small, "-o", out, "--format", "svg")
    more = set(out.iterdir())
    with_class(tmp_path, [{"seat": "window", "paper": "A4"}])
    run("handouts", small, "-o", out, "--format", "svg")
    fewer = set(out.iterdir())
    assert fewer < more
    assert not any(path.name.startswith(".") for path in fewer)


def test_check_tells_of_seats_too(tmp_path):
    seats = [{"seat": "window", "loom": "no such loom"}]
    result = run("check", with_class(tmp_path, seats))
    assert result.exit_code == 1
    assert "for seat 'window': there is no loom 'no such loom'" in result.stderr


# ---- Seats worked out


def seats_of(seats, **changes):
    reading = read_source(spec_text(**{"class": {"seats": seats}}, **changes).encode(), "x.yaml")
    return work_out_seats(reading, work_out(reading))


def test_seats_of_one_kind_are_worked_out_once():
    seats = seats_of(
        [
            {"seat": "1"},
            {"seat": "2", "needs": "large print"},
            {"seat": "3", "paper": "A5"},
            {"seat": "4", "units": "metric"},
            {"seat": "5", "needs": "left-handed"},
        ]
    )
    drafts = [id(seat.project.draft) for seat in seats]
    assert drafts[0] == drafts[1] == drafts[2]
    assert len({drafts[0], drafts[3], drafts[4]}) == 3
    assert [seat.project.needs.words for seat in seats] == [
        "",
        "large print",
        "",
        "",
        "left-handed",
    ]
    assert [seat.project.seat for seat in seats] == ["1", "2", "3", "4", "5"]


def test_the_paper_of_a_seat_is_that_of_the_spec_but_for_what_it_says():
    paper = {"size": "A4", "binding": "left", "holes": "iso-838"}
    seats = seats_of(
        [
            {"seat": "1"},
            {"seat": "2", "paper": "Letter"},
            {"seat": "3", "paper": {"holes": "none", "binding": "top"}},
        ],
        paper=paper,
    )
    found = [
        (seat.project.paper.size.name, seat.project.paper.binding, seat.project.paper.holes)
        for seat in seats
    ]
    assert found == [
        ("A4", "left", "iso-838"),
        ("Letter", "left", "iso-838"),
        ("A4", "top", "none"),
    ]


def test_the_most_is_made_the_same_for_all_seats():
    seats = seats_of(
        [{"seat": "1"}, {"seat": "2", "loom": "short loom"}],
        loom={"name": "long loom", "shafts": "4", "treadles": "6", "longest_warp": "10 yd"},
        looms=[{"name": "short loom", "shafts": "4", "treadles": "6", "longest_warp": "6 yd"}],
        cloth={"width": "27 in", "length": "40 in", "most": "pieces"},
    )
    assert [seat.outcome.project.pieces for seat in seats if seat.outcome.project] == [
        seats[0].outcome.project.pieces
    ] * len(seats)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
def test_the_teachers_sheet_is_good_to_look_at(paper):
    from cards.teacher_sheet import Printed, teacher_sheet

    found = work_out_class(str(MAT))
    sheets = (("Yarn list", 1), ("Warping card", 12), ("A sheet with a long name", 3))
    many = [
        Printed(f"{seat.seat.seat} and some more words of it {number}", seat.project, paper, sheets)
        for number in range(4)
        for seat in found.seats
    ]
    for rows in (many[:1], many):
        card = teacher_sheet(found.project, rows, "Monday class in the attic", "2026-09-07")
        frame = frame_of(found.project, paper)
        for page in draw_teacher_sheet(card, frame).pages:
            assert faults(page, frame) == []


def test_yarn_on_hand_counts_once_for_the_class():
    from cards.teacher_sheet import Printed, teacher_sheet

    yarns = {"natural": {"fibre": "cotton", "size": "Ne 8/2", "put_up": "100 g", "on_hand": "50 g"}}
    seats = seats_of([{"seat": "1"}, {"seat": "2"}], yarns=yarns)
    rows = [Printed(seat.seat.seat, seat.project, "A4", ()) for seat in seats]
    (yarn,) = teacher_sheet(seats[0].project, rows).yarns
    bare = sum(mass for _, mass in yarn.by_seat)
    assert yarn.need.on_hand == 50.0
    assert yarn.need.buy == pytest.approx(bare - 50.0)
    assert yarn.need.packages == math.ceil((bare - 50.0) / 100 - 1e-9)


def test_needs_are_read_with_hyphens_or_without():
    assert parse_needs("left handed, Large-Print") == ("large print", "left-handed")
    assert parse_needs(["grey", "grey"]) == ("grey",)
    assert Needs.of(parse_needs(", ".join(NEEDS))) == Needs(True, True, True)


def test_nothing_is_printed_for_a_seat_that_was_not_worked_out(tmp_path):
    found = work_out_class(str(MAT))
    broken = work_out_seats(
        read_source(
            spec_text(**{"class": {"seats": [{"seat": "1", "loom": "none"}]}}).encode(), "x.yaml"
        ),
        work_out(read_source(spec_text().encode(), "x.yaml")),
    )
    with pytest.raises(ValueError, match="nothing can be printed for seat '1'"):
        print_handouts(found.project, found.class_, broken, "x", tmp_path)
    assert not list(tmp_path.iterdir())
