import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import Places
from cards.spec.nodes import compose, plain
from cards.spec.source import Lines, decoded


def places_of(text):
    lines = Lines(text, "a.yaml")
    root, findings = compose(lines)
    assert findings == []
    return Places(root, lines), plain(root)


def at(place):
    return place.line, place.column


def test_keys_and_values():
    places, _ = places_of(
        "draft:\n  threading: 1 2\n  tie_up: {1: 1 3}\nweave:\n  - {section: a}\n"
    )
    assert at(places.of("draft", "threading")) == (2, 14)
    assert at(places.key("draft", "threading")) == (2, 3)
    assert at(places.of("draft", "tie_up", 1)) == (3, 15)
    assert at(places.of("weave", 0, "section")) == (5, 15)
    assert at(places.of("weave", 0)) == (5, 5)


def test_what_is_missing_stands_at_its_nearest_parent():
    places, _ = places_of("draft:\n  threading: 1 2\n")
    assert at(places.of("draft", "lifts")) == (1, 1)
    assert at(places.of("loom", "shafts")) == (1, 1)
    assert at(places.of("draft", "threading", 4)) == (2, 3)
    assert not places.has("draft", "lifts")


@pytest.mark.parametrize(
    ("text", "character", "place"),
    [
        ("a: 1 2 Q", "Q", (1, 8)),
        ('a: "1 2 Q"', "Q", (1, 9)),
        ("a: '1 ''2 Q'", "Q", (1, 11)),
        ('a: "\\x41 \\u00e9 \\" \\t Q"', "Q", (1, 23)),
        ('a: "1 \\\n  2 Q"', "Q", (2, 5)),
        ("a: 1 2\n  3 Q", "Q", (2, 5)),
        ("a: |  # a Q\n  1 2\n   Q 3\n", "Q", (3, 4)),
        ("a: >-\n  1 2\n\n  Q 3\n", "Q", (4, 3)),
        ("\u00e9: \u00e9\u00e9 Q", "Q", (1, 7)),
        ('a: "1\\x20\\u0020\\_2 Q"', "Q", (1, 20)),
        # A value that is composed on reading is no longer as written: its beginning must do.
        ("a:  cafe\u0301 Q", "Q", (1, 5)),
        ('a: "cafe\u0301 Q"', "Q", (1, 5)),
        ("a: |\n    cafe\u0301 Q\n", "Q", (2, 5)),
        ("b: 1\r\na: 1 2\r\n  3 Q\r\n", "Q", (3, 5)),
    ],
)
def test_the_place_of_a_character_inside_a_value(text, character, place):
    places, data = places_of(text)
    key = "a" if "a" in data else "\u00e9"
    assert at(places.of(key, offset=data[key].index(character))) == place


@given(
    st.lists(st.text(alphabet="abc12()+;", min_size=1, max_size=6), min_size=1, max_size=8),
    st.sampled_from(["'{}'", '"{}"', ">\n  {}\n", "|\n  {}\n"]),
    st.data(),
)
def test_every_character_is_found(words, style, data):
    joint = data.draw(st.sampled_from([" ", "\n  ", "  "]))
    text = "a: " + style.format(joint.join(words))
    places, values = places_of(text)
    offsets = [i for i, character in enumerate(values["a"]) if not character.isspace()]
    offset = data.draw(st.sampled_from(offsets))
    place = places.of("a", offset=offset)
    line = text.split("\n")[place.line - 1]
    assert line[place.column - 1] == values["a"][offset]


def test_a_byte_order_mark_moves_no_column():
    text, finding = decoded("\ufeffa: 1".encode(), "a.yaml")
    assert finding is None
    assert at(places_of(text)[0].key("a")) == (1, 1)
