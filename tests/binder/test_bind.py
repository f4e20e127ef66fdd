"""A folder bound: one numbering, only what changed drawn again, nothing lost by one broken spec."""

import hashlib
import re
import shutil
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pypdf
import pypdfium2
import pytest
from PIL import Image

from cards.spec import parse_paper_size
from layouts import bind as binding
from layouts import binder_pool
from layouts.binder_cache import FolioCache
from layouts.binder_folio import BoundFolio, folio_for_binder
from layouts.binder_page import binder_frame
from layouts.binder_pool import WORTH_SHARING, drawn_folios
from tests.binder.structure import structure_faults
from tests.commands import BAD, ROOT, run, start

SPECS = ROOT / "specs"
NAMES = ("class-mat.yaml", "kitchen-towels.yaml", "throw-three-ways.yaml")
FRAME = binder_frame(parse_paper_size("A4"))


def folder_of(place, names=NAMES):
    place.mkdir()
    for name in (*names, "looms.yaml"):
        shutil.copy(SPECS / name, place / name)
    return place


@pytest.fixture
def folder(tmp_path):
    return folder_of(tmp_path / "winter")


@pytest.fixture(scope="module")
def bound(tmp_path_factory):
    """A binder of three specs and what was said of it."""
    place = tmp_path_factory.mktemp("bound")
    folder_of(place / "winter")
    result = run("bind", place / "winter", "-o", place / "out" / "winter.pdf")
    return place / "out" / "winter.pdf", result


@pytest.fixture
def drawn(monkeypatch):
    """The names of all specs that are drawn, as they come."""
    names = []

    def noted(folder, name, frame):
        names.append(name)
        return folio_for_binder(folder, name, frame)

    monkeypatch.setattr(binder_pool, "folio_for_binder", noted)
    return names


def texts(file):
    document = pypdfium2.PdfDocument(file)
    return [page.get_textpage().get_text_range() for page in document]


def test_the_binder_is_written_and_named(bound):
    file, result = bound
    assert result.exit_code == 0
    assert result.stdout == f"{file}\n"
    assert result.stderr.endswith("winter.pdf: 3 projects bound, 3 drawn, 0 as they were\n")
    assert "note: on 'dobby' the warp is" in result.stderr


def test_every_page_has_its_number_and_labels_say_the_same(bound):
    file, _ = bound
    reader = pypdf.PdfReader(file, strict=True)
    pages = texts(file)
    assert list(reader.page_labels) == [str(at) for at in range(1, len(pages) + 1)]
    for at, text in enumerate(pages, start=1):
        assert re.search(rf"\bwinter\s+{at}\b", text)


def test_contents_index_and_outline_lead_to_the_first_page_of_each_project(bound):
    file, _ = bound
    reader = pypdf.PdfReader(file, strict=True)
    pages = texts(file)
    titles = {"Double-width mat for the class", "Estuary kitchen towels", "Headland throw"}
    top = [each for each in reader.outline if not isinstance(each, list)]
    begin = {each.title: reader.get_destination_page_number(each) + 1 for each in top}
    assert list(begin)[:3] == ["Title page", "Contents", "Index"]
    assert set(begin) == {"Title page", "Contents", "Index"} | titles
    for title in titles:
        assert title in pages[begin[title] - 1]
        before = pages[begin[title] - 2]
        assert title not in before or "Index" in before
        assert re.search(rf"{title}\s+{begin[title]}\b", pages[1])
        assert re.search(rf"{title}\s+{begin[title]}\b", pages[2])
    sheets = [each for each in reader.outline if isinstance(each, list)]
    assert len(sheets) == 3
    for each in (sheet for group in sheets for sheet in group):
        page = pages[reader.get_destination_page_number(each)]
        assert "page 1 of" in page
        assert each.title.split(":")[-1].strip().lower() in page.lower()


def test_tabs_stand_on_the_pages_of_their_project(bound):
    file, _ = bound
    reader = pypdf.PdfReader(file, strict=True)
    begin = [
        reader.get_destination_page_number(each)
        for each in reader.outline
        if not isinstance(each, list)
    ][3:]
    document = pypdfium2.PdfDocument(file)
    dark = []
    for page in document:
        image = page.render(scale=1).to_pil().convert("L")
        column = [image.getpixel((image.width - 3, y)) for y in range(image.height)]
        dark.append([y for y, value in enumerate(column) if value < 80])
    assert all(dark[at] == [] for at in range(begin[0]))
    ends = [*begin[1:], len(dark)]
    bands = []
    for first, end in zip(begin, ends, strict=True):
        assert dark[first]
        assert all(dark[at] == dark[first] for at in range(first, end))
        bands.append((dark[first][0], dark[first][-1]))
    assert all(one[1] < two[0] for one, two in pairwise(bands))


def test_the_structure_of_all_projects_hangs_together(bound):
    reader = pypdf.PdfReader(bound[0], strict=True)
    assert structure_faults(reader) == []
    assert reader.root_object["/Lang"] == "en"
    assert reader.root_object["/MarkInfo"]["/Marked"] == True  # noqa: E712 - pypdf's own boolean
    sections = reader.root_object["/StructTreeRoot"]["/K"]["/K"]
    titles = [each.get_object().get("/T") for each in sections]
    assert titles[-3:] == [
        "Double-width mat for the class",
        "Estuary kitchen towels",
        "Headland throw",
    ]


def test_every_letter_of_a_folio_is_in_the_binder(bound):
    """What stands on the pages of a project is what is drawn of it, and its number and tab."""
    file, _ = bound
    alone = folio_for_binder(SPECS, "throw-three-ways.yaml", FRAME)
    want = texts(BytesIO(alone.pdf))
    got = texts(file)[-len(want) :]
    for number, (one, two) in enumerate(zip(want, got, strict=True)):
        page = len(texts(file)) - len(want) + number + 1
        extra = f"winter{page}3"
        assert sorted("".join(one.split()) + extra) == sorted("".join(two.split()))


def test_all_specs_travel_in_the_binder(bound, tmp_path):
    result = run("recover", bound[0], "-o", tmp_path / "again")
    assert result.exit_code == 0
    for name in (*NAMES, "looms.yaml"):
        assert (tmp_path / "again" / name).read_bytes() == (SPECS / name).read_bytes()


def test_without_the_specs_none_travels(folder, tmp_path):
    assert run("bind", folder, "-o", tmp_path / "x.pdf", "--no-spec").exit_code == 0
    assert not pypdf.PdfReader(tmp_path / "x.pdf").attachments


def test_only_what_changed_is_drawn_again(folder, tmp_path, drawn):
    file = tmp_path / "x.pdf"
    run("bind", folder, "-o", file)
    first = file.read_bytes()
    assert drawn == list(NAMES)
    again = run("bind", folder, "-o", file)
    assert drawn == list(NAMES)
    assert file.read_bytes() == first
    assert again.stderr.endswith("3 projects bound, 0 drawn, 3 as they were\n")
    assert "note: on 'dobby' the warp is" in again.stderr
    towels = folder / "kitchen-towels.yaml"
    towels.write_text(towels.read_text("utf-8").replace("Estuary", "Marsh"), "utf-8")
    result = run("bind", folder, "-o", file)
    assert drawn == [*NAMES, "kitchen-towels.yaml"]
    assert result.stderr.endswith("3 projects bound, 1 drawn, 2 as they were\n")
    assert "Marsh kitchen towels" in texts(file)[1]


def test_a_kept_file_that_changed_has_those_drawn_again_that_use_it(folder, tmp_path, drawn):
    run("bind", folder, "-o", tmp_path / "x.pdf")
    looms = folder / "looms.yaml"
    looms.write_bytes(looms.read_bytes() + b"# new\n")
    drawn.clear()
    run("bind", folder, "-o", tmp_path / "x.pdf")
    assert drawn == ["class-mat.yaml", "throw-three-ways.yaml"]


def test_a_photograph_that_changed_comes_or_goes_has_its_project_drawn_again(tmp_path, drawn):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml", "throw-three-ways.yaml"))
    towels = folder / "kitchen-towels.yaml"
    more = "\nphotographs:\n  - {of: sample, file: sample.png}\n"
    towels.write_text(towels.read_text("utf-8") + more, "utf-8")
    file = tmp_path / "x.pdf"
    run("bind", folder, "-o", file)
    for change in (
        lambda: Image.new("RGB", (60, 40), "#a04020").save(folder / "sample.png"),
        lambda: Image.new("RGB", (60, 40), "#204080").save(folder / "sample.png"),
        (folder / "sample.png").unlink,
    ):
        drawn.clear()
        before = file.read_bytes()
        change()
        run("bind", folder, "-o", file)
        assert drawn == ["kitchen-towels.yaml"]
        assert file.read_bytes() != before
        drawn.clear()
        run("bind", folder, "-o", file)
        assert drawn == []


def test_a_project_that_comes_first_moves_all_numbers_and_draws_itself_alone(
    folder, tmp_path, drawn
):
    file = tmp_path / "x.pdf"
    run("bind", folder, "-o", file)
    before = texts(file)
    drawn.clear()
    shutil.copy(SPECS / "two-runners.yaml", folder / "a-runner.yaml")
    run("bind", folder, "-o", file)
    assert drawn == ["a-runner.yaml"]
    after = texts(file)
    assert len(after) > len(before)
    for at, text in enumerate(after, start=1):
        assert re.search(rf"\bwinter\s+{at}\b", text)
    cached = [path for path in (tmp_path / ".x.pdf.bind").iterdir() if path.suffix == ".folio"]
    assert len(cached) == 4
    (folder / "a-runner.yaml").unlink()
    run("bind", folder, "-o", file)
    assert texts(file) == before
    assert len(list((tmp_path / ".x.pdf.bind").iterdir())) == 3


def test_other_paper_and_anew_draw_everything(folder, tmp_path, drawn):
    run("bind", folder, "-o", tmp_path / "x.pdf")
    one = (tmp_path / "x.pdf").read_bytes()
    run("bind", folder, "-o", tmp_path / "x.pdf", "--anew")
    assert (tmp_path / "x.pdf").read_bytes() == one
    run("bind", folder, "-o", tmp_path / "x.pdf", "--paper", "Letter")
    assert drawn == [*NAMES, *NAMES, *NAMES]
    page = pypdf.PdfReader(tmp_path / "x.pdf").pages[-1]
    assert [float(each) for each in page.mediabox[2:]] == pytest.approx([612, 792])


DAMAGES = {
    "cut": lambda data: data[: len(data) // 2],
    "empty": lambda data: b"",
    "one-byte": lambda data: data[:-900] + bytes([data[-900] ^ 1]) + data[-899:],
    "no-json": lambda data: data.replace(b'"entry"', b'"enter"'),
    "garbage": lambda data: bytes(range(256)) * 20,
    "another-digest": lambda data: b"0" * 64 + data[64:],
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_what_was_kept_and_is_damaged_is_drawn_again(damage, tmp_path, drawn):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml",))
    run("bind", folder, "-o", tmp_path / "x.pdf")
    first = (tmp_path / "x.pdf").read_bytes()
    (kept,) = (tmp_path / ".x.pdf.bind").iterdir()
    whole = kept.read_bytes()
    kept.write_bytes(DAMAGES[damage](whole))
    result = run("bind", folder, "-o", tmp_path / "x.pdf")
    assert result.exit_code == 0
    assert drawn == ["kitchen-towels.yaml"] * 2
    assert (tmp_path / "x.pdf").read_bytes() == first
    assert kept.read_bytes() == whole


def test_a_head_of_another_shape_is_as_if_it_were_not_there(tmp_path):
    """Its SHA-256 is right, as somebody who knows how would make it."""
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml",))
    cache = FolioCache(tmp_path / "kept", folder, FRAME)
    cache.keep(folio_for_binder(folder, "kitchen-towels.yaml", FRAME))
    assert isinstance(cache.find("kitchen-towels.yaml"), BoundFolio)
    (kept,) = (tmp_path / "kept").iterdir()
    head, pdf = kept.read_bytes().split(b"\n", 2)[1:]
    shapes = [
        *(b"[]", b"3", b"{}", b"[" * 100_000),
        head.replace(b'"sheets": [[', b'"sheets": [3, ['),
        head.replace(b'"title"', b'"titel"'),
        head.replace(b'"notes": [', b'"notes": 3, "more": ['),
    ]
    for new in shapes:
        assert new != head
        rest = new + b"\n" + pdf
        kept.write_bytes(hashlib.sha256(rest).hexdigest().encode() + b"\n" + rest)
        assert cache.find("kitchen-towels.yaml") is None


def test_nothing_is_kept_where_it_cannot_be_and_the_binder_is_written(tmp_path):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml",))
    (tmp_path / ".x.pdf.bind").write_text("a file in the place of the folder")
    result = run("bind", folder, "-o", tmp_path / "x.pdf")
    assert result.exit_code == 0
    assert "x.pdf: note: nothing is kept for the next time: " in result.stderr
    assert (tmp_path / "x.pdf").exists()


def test_one_broken_spec_is_listed_and_the_rest_is_bound(folder, tmp_path):
    shutil.copy(BAD / "unknown-yarn-in-warp-order.yaml", folder / "broken.yaml")
    file = tmp_path / "x.pdf"
    result = run("bind", folder, "-o", file)
    assert result.exit_code == 1
    assert result.stdout == f"{file}\n"
    (said,) = [line for line in result.stderr.split("\n") if ": error: " in line]
    place, message = re.fullmatch(r".*broken\.yaml:(\d+:\d+): error: (.*)", said).groups()
    assert "broken.yaml: not bound; mend the errors first\n" in result.stderr
    pages = texts(file)
    assert "1 spec is missing: see Not bound" in pages[0]
    missing = " ".join(pages[2].split())
    assert missing.startswith("Not bound")
    line, column = place.split(":")
    assert f"broken.yaml – line {line}, column {column}: {message}" in missing
    assert "Headland throw" in pages[1]
    titles = [each.title for each in pypdf.PdfReader(file).outline if not isinstance(each, list)]
    assert titles[:4] == ["Title page", "Contents", "Not bound", "Index"]


def test_all_broken_leaves_the_older_binder_whole(tmp_path):
    folder = tmp_path / "winter"
    folder.mkdir()
    shutil.copy(BAD / "unknown-yarn-in-warp-order.yaml", folder / "broken.yaml")
    file = tmp_path / "x.pdf"
    file.write_bytes(b"older")
    result = run("bind", folder, "-o", file)
    assert result.exit_code == 1
    assert result.stderr.endswith(
        f"{folder}: none of its specs can be bound; mend the errors first\n"
    )
    assert file.read_bytes() == b"older"


def test_a_folder_without_a_spec_is_told_and_nothing_written(tmp_path):
    folder = tmp_path / "winter"
    folder.mkdir()
    shutil.copy(SPECS / "looms.yaml", folder / "looms.yaml")
    (folder / "compose.yaml").write_text("services: {}\n")
    result = run("bind", folder, "-o", tmp_path / "out" / "x.pdf")
    assert result.exit_code == 1
    assert result.stderr == (
        f"{folder}: note: left out, being no spec: compose.yaml\n"
        f"{folder}: there is no spec in it (name a folder of specs; nothing was bound)\n"
    )
    assert not (tmp_path / "out").exists()


def test_what_is_no_folder_and_what_is_no_pdf_are_not_understood(tmp_path):
    missing = run("bind", tmp_path / "gone", "-o", tmp_path / "x.pdf")
    assert missing.exit_code == 2
    file = run("bind", SPECS / "looms.yaml", "-o", tmp_path / "x.pdf")
    assert file.exit_code == 2
    towels = tmp_path / "towels.yaml"
    towels.write_text("mine")
    over = run("bind", SPECS, "-o", towels)
    assert over.exit_code == 2
    assert "a binder is a PDF; name it" in over.stderr
    assert towels.read_text() == "mine"


def test_paper_that_is_too_small_is_told(folder, tmp_path):
    result = run("bind", folder, "-o", tmp_path / "x.pdf", "--paper", "100 x 180 mm")
    assert result.exit_code == 1
    assert "bound, the paper leaves" in result.stderr
    assert "nothing was bound" in result.stderr
    assert not (tmp_path / "x.pdf").exists()


def test_a_binder_that_cannot_be_written_leaves_the_older_one(folder, tmp_path, monkeypatch):
    file = tmp_path / "x.pdf"
    run("bind", folder, "-o", file)
    before = file.read_bytes()
    (folder / "class-mat.yaml").unlink()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("layouts.files.os.fsync", full)
    result = run("bind", folder, "-o", file)
    assert result.exit_code == 1
    assert "No space left on device" in result.stderr
    assert file.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [".x.pdf.bind", "winter", "x.pdf"]


def test_the_binder_may_lie_in_its_folder_and_bears_the_names_of_further_ones(tmp_path):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml",))
    folder_of(folder / "class", ("class-mat.yaml",))
    file = folder / "winter.pdf"
    assert run("bind", folder, "-o", file, "--title", "Winter  2026").exit_code == 0
    again = run("bind", folder, "-o", file, "--title", "Winter  2026")
    assert "2 projects bound, 0 drawn, 2 as they were" in again.stderr
    reader = pypdf.PdfReader(file)
    assert reader.metadata.title == "Winter 2026"
    assert sorted(reader.attachments) == [
        "class/class-mat.yaml",
        "class/looms.yaml",
        "kitchen-towels.yaml",
    ]


def test_a_long_title_is_cut_off_at_the_foot_and_whole_on_the_title_page(tmp_path):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml",))
    title = "Everything that was woven in the room by the river " * 4
    run("bind", folder, "-o", tmp_path / "x.pdf", "--title", title + "漢")
    first, *_, last = texts(tmp_path / "x.pdf")
    assert " ".join(first.split()).startswith(title + "?")
    foot = re.search(r"(Everything .*) …\s+(\d+)", last)
    assert title.startswith(foot[1])


def test_several_processes_draw_what_one_does(tmp_path, monkeypatch):
    monkeypatch.setattr(binder_pool, "_FOLIOS_EACH", 2)  # so that processes are begun anew
    names = [f"{number}.yaml" for number in range(WORTH_SHARING)]
    folder = tmp_path / "many"
    folder.mkdir()
    for name in names:
        shutil.copy(SPECS / "kitchen-towels.yaml", folder / name)
    (folder / "3.yaml").write_text("loomfolio: 1\nproject: [\n")
    shared = list(drawn_folios(folder, names, FRAME, processes=2))
    assert shared == list(drawn_folios(folder, names, FRAME, processes=1))
    assert [each.name for each in shared] == names


def test_where_processes_cannot_be_started_one_does_all_the_work(tmp_path, monkeypatch):
    names = ["kitchen-towels.yaml", "throw-three-ways.yaml"]
    folder = folder_of(tmp_path / "few", names)

    def refused(*_arguments, **_more):
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(binder_pool, "ProcessPoolExecutor", refused)
    monkeypatch.setattr(binder_pool, "WORTH_SHARING", 1)
    made = list(drawn_folios(folder, names, FRAME, processes=2))
    assert [each.name for each in made] == names


def test_the_same_specs_give_the_same_bytes_in_every_process(tmp_path):
    folder = folder_of(tmp_path / "winter", ("kitchen-towels.yaml", "throw-three-ways.yaml"))
    for seed in ("1", "2"):
        start("bind", folder, "-o", tmp_path / f"{seed}.pdf", env={"PYTHONHASHSEED": seed})
    one, two = ((tmp_path / f"{seed}.pdf").read_bytes() for seed in "12")
    assert one == two


def test_nothing_that_is_kept_is_unpickled():
    """A pickle runs what it is told to (the standard library's own warning)."""
    for path in Path(binding.__file__).parent.glob("bind*.py"):
        assert not re.search(r"import (pickle|marshal|shelve)|\beval\(", path.read_text("utf-8"))
