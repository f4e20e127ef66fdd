"""`recover` gives the spec back byte for byte, and a clear line for every file that has none."""

import base64
import os
import re
import shutil
import sys
import zlib
from io import BytesIO

import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from layouts.attachment import Attachment
from layouts.drawing import Drawing, Page
from layouts.not_recovered import NotRecovered
from layouts.pdf import pdf_bytes
from layouts.recovered import recovered
from layouts.svg import svg_text
from layouts.typeface import label
from tests.commands import ROOT, TOWELS, run, start

MAT = ROOT / "specs" / "class-mat.yaml"
PAGE = Page(210, 297, (label(20, 30, "Card", 12),), "Card")
BOMB_LIMIT = 1024 * 1024


def pdf_with(*attachments):
    drawing = Drawing("Card", "card", (PAGE,))
    return pdf_bytes([drawing], title="Towels", attachments=attachments)


def svg_with(*attachments):
    return svg_text(PAGE, title="Towels", attachments=attachments).encode()


def spec(data=b"loomfolio: 1\n", name="towels.yaml"):
    return Attachment(name, data, "Source")


@pytest.fixture
def odd_towels(tmp_path):
    """A spec as an editor on Windows would save it."""
    path = tmp_path / "towels.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + TOWELS.read_bytes().replace(b"\n", b"\r\n"))
    return path


def test_a_pdf_and_every_svg_give_the_spec_back_byte_for_byte(odd_towels, tmp_path):
    folio = tmp_path / "folio"
    assert run("print", odd_towels, "-o", folio, "--sheet", "warping-card").exit_code == 0
    files = sorted(folio.iterdir())
    assert {path.suffix for path in files} == {".pdf", ".svg"}
    for path in files:
        result = run("recover", path)
        assert result.exit_code == 0
        assert result.stdout_bytes == odd_towels.read_bytes()
        assert result.stderr == ""
    piped = start("recover", "-", input=files[0].read_bytes())
    assert piped.stdout == odd_towels.read_bytes()


def test_without_the_spec_nothing_of_its_source_is_in_the_files(odd_towels, tmp_path):
    secret = b"zq-comment-that-no-sheet-prints"
    odd_towels.write_bytes(odd_towels.read_bytes() + b"# " + secret + b"\r\n")
    folio = tmp_path / "folio"
    run("print", odd_towels, "-o", folio, "--no-spec", "--sheet", "warping-card")
    for path in folio.iterdir():
        data = path.read_bytes()
        assert secret not in data
        assert base64.b64encode(secret)[4:-4] not in data
        assert not any(secret in stream for stream in inflated(data))
        if path.suffix == ".pdf":
            root = pypdf.PdfReader(path).root_object
            assert "/AF" not in root
            assert "/Names" not in root
        result = run("recover", path)
        assert result.exit_code == 1
        assert result.stderr == (
            f"{path}: there is no spec in it (it was printed with --no-spec, or by another "
            "program; look for another print)\n"
        )
    run("print", odd_towels, "-o", folio, "--sheet", "warping-card")
    written = (folio / "towels.warping-card.pdf").read_bytes()
    assert any(secret in stream for stream in inflated(written))


def inflated(data):
    """Yield all that zlib can unpack, wherever it begins in a file."""
    for match in re.finditer(rb"stream\r?\n", data):
        try:
            yield zlib.decompressobj().decompress(data[match.end() :])
        except zlib.error:
            continue


def test_the_kept_files_come_back_beside_the_spec(tmp_path):
    run("print", MAT, "-o", tmp_path, "--format", "pdf", "--sheet", "threading-chart")
    file = tmp_path / "class-mat.threading-chart.pdf"
    alone = run("recover", file)
    assert alone.stdout_bytes == MAT.read_bytes()
    assert alone.stderr == (
        f"{file}: note: the spec refers to 'looms.yaml'; -o DIR writes all that is in it\n"
    )
    result = run("recover", file, "-o", tmp_path / "new" / "deeper")
    assert result.exit_code == 0
    paths = [tmp_path / "new" / "deeper" / name for name in ("class-mat.yaml", "looms.yaml")]
    assert result.stdout == "".join(f"{path}\n" for path in paths)
    assert paths[0].read_bytes() == MAT.read_bytes()
    assert paths[1].read_bytes() == MAT.with_name("looms.yaml").read_bytes()
    run(
        "print", paths[0], "-o", tmp_path / "again", "--format", "pdf", "--sheet", "threading-chart"
    )
    again = tmp_path / "again" / file.name
    assert again.read_bytes() == file.read_bytes()


def test_the_sheet_of_a_comparison_has_all_specs_in_it(tmp_path):
    twill = TOWELS.with_name("twill-scarf.yaml")
    run("compare", TOWELS, twill, "-o", tmp_path)
    for name in ("compare.pdf", "compare-1.svg"):
        result = run("recover", tmp_path / name)
        assert result.exit_code == 1
        assert result.stderr.endswith("there are 2 specs in it (name a folder for them: -o DIR)\n")
        run("recover", tmp_path / name, "-o", tmp_path / name.replace(".", "-"))
        for path in (TOWELS, twill):
            found = tmp_path / name.replace(".", "-") / path.name
            assert found.read_bytes() == path.read_bytes()
    run("compare", TOWELS, twill, "-o", tmp_path, "--no-spec")
    assert run("recover", tmp_path / "compare.pdf").exit_code == 1


def test_no_file_is_ever_written_over(tmp_path):
    file = tmp_path / "x.pdf"
    file.write_bytes(pdf_with(spec(), Attachment("kept/looms.yaml", b"looms: []", "Data")))
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "looms.yaml").write_text("mine")
    result = run("recover", file, "-o", tmp_path)
    assert result.exit_code == 1
    assert result.stderr == (
        f"{tmp_path}/kept/looms.yaml: is there already (choose another -o; nothing was written)\n"
    )
    assert (tmp_path / "kept" / "looms.yaml").read_text() == "mine"
    assert not (tmp_path / "towels.yaml").exists()


def test_hostile_names_stay_in_the_folder(tmp_path):
    names = ["../x.yaml", "/x.yaml", "C:\\x.yaml", "a\x00b.yaml", "NUL", "~/.profile", "\n"]
    folder = tmp_path / "in" / "it"
    for number, written in enumerate((pdf_with, svg_with)):
        file = tmp_path / f"{number}.printed"
        hostile = [name for name in names if written is pdf_with or "\x00" not in name]
        file.write_bytes(written(*(spec(b"loomfolio: 1 #", name) for name in hostile)))
        result = run("recover", file, "-o", folder / str(number))
        assert result.exit_code == 0
        assert len(result.stderr.splitlines()) == len(hostile)
        made = sorted(path.name for path in (folder / str(number)).iterdir())
        assert made == [f"recovered-{place}.yaml" for place in range(1, len(hostile) + 1)]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["0.printed", "1.printed", "in"]


def test_a_link_in_the_folder_leads_nowhere_else(tmp_path):
    file, folder, outside = tmp_path / "x.pdf", tmp_path / "folder", tmp_path / "outside"
    file.write_bytes(pdf_with(spec(name="kept/towels.yaml")))
    folder.mkdir()
    outside.mkdir()
    (folder / "kept").symlink_to(outside)
    result = run("recover", file, "-o", folder)
    assert result.exit_code == 1
    assert "a link there leads out of the folder" in result.stderr
    assert list(outside.iterdir()) == []


def encrypted():
    writer = pypdf.PdfWriter(clone_from=BytesIO(pdf_with(spec())))
    writer.encrypt("secret", algorithm="RC4-128")
    file = BytesIO()
    writer.write(file)
    return file.getvalue()


def bomb():
    """A spec whose attachment unpacks to 64 MiB."""
    data = pdf_with(spec(b"\0" * 64 * BOMB_LIMIT))
    assert len(data) < BOMB_LIMIT
    return data


ENTITIES = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>
<svg xmlns="http://www.w3.org/2000/svg"><title>&c;</title></svg>"""
FETCHED = b"""<!DOCTYPE svg SYSTEM "file:///etc/passwd"><svg xmlns="http://www.w3.org/2000/svg"/>"""

BAD = {
    "neither": (
        b"loomfolio: 1\n",
        "this is neither a PDF nor an SVG (name a file that was printed)",
    ),
    "empty": (b"", "this is neither a PDF nor an SVG"),
    "another-xml": (b"<html></html>", "there is no spec in it"),
    "no-xml": (b"<svg><g></svg>", "the file is damaged"),
    "entities": (ENTITIES, "this SVG has a document type, and no print has one"),
    "fetched": (FETCHED, "this SVG has a document type"),
    "cut-pdf": (pdf_with(spec(b"x" * 5000))[:-1400], "(take another copy of it, or another page)"),
    "head-alone": (b"%PDF-1.7\n", "the file is damaged"),
    "garbage": (b"%PDF-1.7\n" + bytes(range(256)) * 40, "the file is damaged"),
    "cut-svg": (svg_with(spec(b"x" * 5000))[:3000], "the file is damaged"),
    "no-base64": (svg_with(spec()).replace(b">bG9v", b">b!9v"), "the file is damaged"),
    "encrypted": (encrypted(), "this PDF is encrypted (open it with its password, and save it"),
    "bomb": (bomb(), "a file in it has more than 1 MiB, and no spec has (take another print)"),
    "large-svg": (svg_with(spec(b"x" * (BOMB_LIMIT + 1))), "a file in it has more than 1 MiB"),
    "many": (
        svg_with(*(spec(b"x" * BOMB_LIMIT, f"{at}.yaml") for at in range(66))),
        "there is more in it than any print holds",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_what_has_no_spec_is_told_in_one_line(name, tmp_path):
    data, words = BAD[name]
    file = tmp_path / f"{name}.printed"
    file.write_bytes(data)
    result = run("recover", file, "-o", tmp_path / "folder")
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.startswith(f"{file}: ")
    assert words in result.stderr
    assert result.stderr.count("\n") == 1
    assert not (tmp_path / "folder").exists()


def test_the_reader_of_pdf_is_not_heard(tmp_path):
    file = tmp_path / "cut.pdf"
    file.write_bytes(BAD["cut-pdf"][0])
    result = start("recover", file)
    assert result.returncode == 1
    assert result.stderr.decode().count("\n") == 1
    assert b"Traceback" not in result.stderr


def test_files_that_cannot_be_read_are_told(tmp_path):
    missing = run("recover", tmp_path / "none.pdf")
    assert missing.exit_code == 1
    assert missing.stderr == (
        f"{tmp_path}/none.pdf: cannot be read: No such file or directory (check the name)\n"
    )
    assert "this is a folder" in run("recover", tmp_path).stderr
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        assert "this is no regular file" in run("recover", tmp_path / "pipe").stderr
    assert run("recover", "").exit_code == 2


@pytest.mark.skipif(shutil.which("sh") is None, reason="needs a shell to close a stream")
def test_standard_input_that_is_closed_is_told():
    command = 'exec "$@" <&-'
    program = f"-c import os,sys;os.execvp('sh',['sh','-c',{command!r},'sh',*sys.argv[1:]])"
    result = start(sys.executable, "-m", "layouts", "recover", "-", program=program)
    assert result.returncode == 1
    assert result.stderr == (
        b"<stdin>: standard input is closed (pipe a file into it, or name one)\n"
    )


def test_a_file_larger_than_any_print_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr("layouts.recovered.LARGEST_FILE", 1000)
    file = tmp_path / "x.svg"
    file.write_bytes(b"<svg/>" + b" " * 995)
    assert "the file is larger than any print" in run("recover", file).stderr


def test_a_full_disk_leaves_nothing_behind(tmp_path):
    if sys.platform == "win32" or shutil.which("sh") is None:
        pytest.skip("needs limits of a process")
    file = tmp_path / "x.pdf"
    file.write_bytes(pdf_with(spec(os.urandom(500_000).hex().encode()[:BOMB_LIMIT])))
    limited = 'ulimit -f 100; exec "$@"'
    result = start(
        sys.executable, "-m", "layouts", "recover", file, "-o", tmp_path / "new",
        program=f"-c import os,sys;os.execvp('sh',['sh','-c',{limited!r},'sh',*sys.argv[1:]])",
    )  # fmt: skip
    assert result.returncode == 1
    assert b"nothing was written" in result.stderr
    assert not (tmp_path / "new").exists()


PRINTED = pdf_with(spec(TOWELS.read_bytes())), svg_with(spec(TOWELS.read_bytes()))


@st.composite
def mutilated(draw):
    """Return a print some of whose bytes are others, are gone or stand twice."""
    data = bytearray(draw(st.sampled_from(PRINTED)))
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(data) - 1))
        # Half of the blows fall where the structure is, at the end.
        at = draw(st.sampled_from([at, max(0, len(data) - 1 - at // 8)]))
        length = draw(st.integers(0, 40))
        new = draw(
            st.binary(max_size=20)
            | st.sampled_from(
                [b"0 R", b"<<", b">>", b"[", b"/Kids", b"/Names", b"999999999", b"-1"]
            )
        )
        data[at : at + length] = new
        if draw(st.booleans()):
            data += data[at : at + 2 * length]
    return bytes(data)


@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck))
@given(mutilated())
def test_no_mutilated_print_gives_anything_but_specs_or_one_line(data):
    found, said = [], ""
    try:
        found = recovered(data)
    except NotRecovered as error:
        said = f"{error} ({error.mend})"
    assert bool(found) != bool(said)
    assert "\n" not in said
    if found and data[:5] == b"%PDF-" and all(each.name == "towels.yaml" for each in found):
        # What was changed within the attachment would not have its checksum.
        assert {each.data for each in found} <= {TOWELS.read_bytes()} or b"CheckSum" not in data


def test_a_letter_changed_in_an_svg_is_found_out(tmp_path):
    run("print", TOWELS, "-o", tmp_path, "--sheet", "yarn-list", "--format", "svg")
    (file,) = tmp_path.glob("*.svg")
    text = file.read_text("utf-8")
    place = text.index("</", text.index("urn:x-loomfolio:source")) - 100  # within the base64
    changed = "A" if text[place] != "A" else "B"
    with pytest.raises(NotRecovered, match="damaged"):
        recovered((text[:place] + changed + text[place + 1 :]).encode())
