"""Figures named in a text: what is between braces, and where it stands."""

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.spec import read_source
from cards.spec.braces import Named, filled, parts_of
from cards.spec.refusal import NotationError

PLAIN = st.text(st.characters(exclude_characters="{}", exclude_categories=["Cs"]))
ANYTHING = st.text(st.one_of(st.sampled_from("{}. "), st.characters(exclude_categories=["Cs"])))
NAMES = st.sampled_from(["warp.ends", "section.first hem.picks", "sett", "x"])


@given(PLAIN)
def test_a_text_without_braces_comes_out_as_it_is(text):
    assert filled(text, {}.get) == text
    assert parts_of(text) == ((text,) if text else ())


@given(ANYTHING)
def test_any_text_is_read_or_refused_at_a_brace(text):
    refused = None
    try:
        parts = parts_of(text)
    except NotationError as error:
        refused, parts = error, ()
    if refused is not None:
        assert text[refused.offset] in "{}"
        assert filled(text, lambda name: "figure") == text
    for part in parts:
        if isinstance(part, Named):
            assert text[part.offset : part.offset + len(part.name)] == part.name
            assert not set(part.name) & set("{}")
    assert isinstance(filled(text, lambda name: "figure"), str)


@given(st.lists(st.tuples(PLAIN, NAMES)), PLAIN, ANYTHING)
def test_what_is_put_in_is_never_read_again(pairs, end, value):
    text = "".join(f"{plain}{{{name}}}" for plain, name in pairs) + end
    wanted = "".join(plain + value for plain, _ in pairs) + end
    assert filled(text, lambda name: value) == wanted


@given(st.lists(st.one_of(PLAIN, st.sampled_from(["{", "}"]))))
def test_doubled_braces_are_real_ones(parts):
    # Python's own formatting of texts has the same rule.
    text = "".join(parts)
    doubled = text.replace("{", "{{").replace("}", "}}")
    assert filled(doubled, {}.get) == text == doubled.format()


@pytest.mark.parametrize(
    "text", ["{0.__class__}", "{warp.ends!r}", "{warp.ends:>900000000}", "{a[0]}", "{}", "%(x)s"]
)
def test_there_is_no_way_into_the_program(text):
    assert filled(text, {"warp.ends": "248"}.get) == text


@settings(deadline=None)  # the first spec that is read builds the models
@given(
    st.lists(st.text(string.ascii_letters + "'\"é#:,", min_size=1), max_size=6),
    st.sampled_from(["{}", "'{}'", '"{}"', "|\n      {}", ">-\n      {}", ">\n\n      {}\n"]),
    st.sampled_from([" ", "   ", "\n      "]),
)
def test_the_place_of_a_brace_is_exact_however_the_text_is_quoted(words, style, apart):
    # An open brace is told of without a plan.
    text = apart.join(["x", *words, "{warp.ends", "end"])
    if style == "'{}'":
        text = text.replace("'", "''")
    elif style == '"{}"':
        text = text.replace('"', "\\u0022").replace("é", "\\xe9")
    elif style == "{}":
        text = text.replace("#", "").replace(":", "")
    source = f"pattern:\n  cautions:\n    - {style.replace('{}', text)}\n"
    at = source.index("{warp")
    line, column = source.count("\n", 0, at) + 1, at - source.rindex("\n", 0, at)
    found = read_source(source.encode(), "x.yaml").findings
    places = [(each.place.line, each.place.column) for each in found if each.code == "open-brace"]
    assert places == [(line, column)]
