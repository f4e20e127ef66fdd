"""Names from outside never lead out of the folder, nor to a device, nor onto one another."""

from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.safe_names import is_safe, safe_names

HOSTILE = [
    "",
    ".",
    "..",
    "../x.yaml",
    "a/../../x.yaml",
    "/etc/passwd",
    "//server/share/x",
    "C:x.yaml",
    "C:\\x.yaml",
    "..\\x.yaml",
    "\\\\server\\x",
    "a\x00b.yaml",
    "a\nb.yaml",
    "a\u202eb.yaml",
    "a\udcffb.yaml",
    "NUL",
    "con.yaml",
    "a/COM1.txt",
    "lpt9",
    ".bashrc",
    ".git/hooks/post-checkout",
    "a//b.yaml",
    "a/",
    "x.yaml.",
    "x.yaml ",
    "x.yaml:stream",
    "x" * 300,
    "/".join("abcdefghijklmnopqrst"),
    "~",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_never_taken(name):
    if name == "~":  # a shell's word, and an ordinary name to the system
        assert is_safe(name)
        return
    assert not is_safe(name)
    assert safe_names([name]) == ["recovered-1.yaml"]


@pytest.mark.parametrize("name", ["towels.yaml", "kept/looms.yaml", "наволочка 2.yml", "a-b_c.y"])
def test_an_honest_name_is_kept(name):
    assert safe_names([name]) == [name]


@given(st.text(st.characters(codec=None), max_size=12) | st.sampled_from(HOSTILE))
def test_what_is_safe_stays_in_the_folder_by_the_rules_of_both_systems(name):
    """The standard library's own path rules, POSIX and Windows, are the judge."""
    if not is_safe(name):
        return
    for kind in (PurePosixPath, PureWindowsPath):
        path = kind(name)
        assert not path.is_absolute()
        assert not path.drive
        assert not path.root
        assert ".." not in path.parts
        assert (kind("folder") / name).parts[0] == "folder"


@given(
    st.lists(
        st.sampled_from([*HOSTILE, "a", "A", "a/b", "a/B", "recovered-2.yaml", "é", "e\u0301"]),
        max_size=8,
    )
)
def test_no_two_files_have_one_name_and_none_is_in_the_place_of_a_folder(names):
    given = safe_names(names)
    assert len(given) == len(names)
    folded = [name.casefold() for name in given]
    assert len(set(folded)) == len(folded)
    above = {str(parent) for name in folded for parent in PurePosixPath(name).parents}
    assert not above & set(folded)
