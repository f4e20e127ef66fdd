"""What travels with a project, and the fingerprint by which a stale card is known."""

import hashlib
import re
from pathlib import Path

import pytest

from cards.heading import heading_of
from cards.project import work_out, work_out_on_all
from cards.project.source import Source
from cards.spec import KeptSource, read_source, read_spec
from layouts.drawing import Text
from layouts.drawn import drawn_sheets
from layouts.folio import frame_of
from tests.sheets.looks import flat
from tests.worked_specs import SPECS

MAT = Path(__file__).parents[2] / "specs" / "class-mat.yaml"
TOWELS = MAT.with_name("kitchen-towels.yaml")


def project_of(path, loom=None):
    return work_out(read_spec(path, loom)).project


def test_the_fingerprint_of_a_lone_spec_is_the_sha_256_of_its_length_and_bytes():
    """FIPS 180-4, the one-block message `abc`: here behind its length in eight bytes."""
    assert hashlib.sha256(b"abc").hexdigest().startswith("ba7816bf8f01cfea")
    whole = hashlib.sha256(b"\x00\x00\x00\x00\x00\x00\x00\x03abc").hexdigest()
    assert Source("x.yaml", b"abc").fingerprint == f"{whole[:4]}-{whole[4:8]}"


def test_the_bytes_of_the_spec_and_of_its_kept_files_travel_as_they_were_read(tmp_path):
    data = b"\xef\xbb\xbf" + MAT.read_bytes().replace(b"\n", b"\r\n")
    (tmp_path / "mat.yaml").write_bytes(data)
    looms = MAT.with_name("looms.yaml").read_bytes()
    (tmp_path / "looms.yaml").write_bytes(looms)
    source = project_of(tmp_path / "mat.yaml").source
    assert source == Source("mat.yaml", data, (KeptSource("looms.yaml", looms),))


def test_every_change_gives_another_fingerprint(tmp_path):
    spec, looms = tmp_path / "mat.yaml", tmp_path / "looms.yaml"
    spec.write_bytes(MAT.read_bytes())
    looms.write_bytes(MAT.with_name("looms.yaml").read_bytes())
    found = [project_of(spec).source.fingerprint]
    looms.write_bytes(looms.read_bytes() + b"# new\n")
    found.append(project_of(spec).source.fingerprint)
    spec.write_bytes(spec.read_bytes() + b"# new\n")
    found.append(project_of(spec).source.fingerprint)
    assert len(set(found)) == 3
    other = spec.rename(tmp_path / "another.yaml")
    assert project_of(other).source.fingerprint == found[-1]


def test_no_bytes_run_from_one_file_into_the_next():
    parted = Source("x", b"ab", (KeptSource("c", b"d"),))
    joined = Source("x", b"a", (KeptSource("bc", b"d"),))
    assert parted.fingerprint != joined.fingerprint
    assert parted.fingerprint != Source("x", b"abcd").fingerprint


def test_files_bear_the_names_by_which_they_are_asked_for(tmp_path):
    (tmp_path / "kept" / "far").mkdir(parents=True)
    spec = MAT.read_text("utf-8").replace("looms.yaml", "./kept/link.yaml")
    (tmp_path / "mat.yaml").write_text(spec, "utf-8")
    real = tmp_path / "kept" / "far" / "real.yaml"
    real.write_bytes(MAT.with_name("looms.yaml").read_bytes())
    (tmp_path / "kept" / "link.yaml").symlink_to("far/real.yaml")
    project = project_of(tmp_path / "mat.yaml")
    assert [each.name for each in project.source.kept] == ["kept/link.yaml"]
    again = tmp_path / "again"
    for file in (*project.source.kept, project.source):
        (again / file.name).parent.mkdir(parents=True, exist_ok=True)
        (again / file.name).write_bytes(file.data)
    assert project_of(again / "mat.yaml").source == project.source


def test_a_loom_that_is_asked_for_brings_the_file_in_which_it_was_found(tmp_path):
    (tmp_path / "towels.yaml").write_bytes(TOWELS.read_bytes())
    (tmp_path / "looms.yaml").write_bytes(MAT.with_name("looms.yaml").read_bytes())
    own, other = (project_of(tmp_path / "towels.yaml", loom) for loom in (None, "attic loom"))
    assert own.source.kept == ()
    assert [each.name for each in other.source.kept] == ["looms.yaml"]


def test_a_spec_from_standard_input_has_a_name_too():
    source = work_out(read_source(TOWELS.read_bytes(), "<stdin>")).project.source
    assert source == Source("spec.yaml", TOWELS.read_bytes())


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_version_date_and_fingerprint_stand_on_every_page(path):
    outcome = work_out_on_all(read_spec(path))
    project = outcome.project
    heading = heading_of(project, "x")
    assert re.fullmatch("[0-9a-f]{4}-[0-9a-f]{4}", heading.fingerprint)
    frame = frame_of(project)
    for drawing in drawn_sheets(project, frame, others=outcome.others):
        for page in drawing.pages:
            words = [mark.text for mark in flat(page.marks) if isinstance(mark, Text)]
            assert f"spec {heading.fingerprint}" in words
            assert heading.date in " ".join(words)
