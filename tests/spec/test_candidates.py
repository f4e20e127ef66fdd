"""Candidates: what of the spec they change, what they leave, and where their findings stand."""

import copy
import json
import time

import pytest
from pydantic import BaseModel

from cards.project import work_out
from cards.project.candidates import work_out_candidates
from cards.spec import read_source, read_spec, spec_schema
from cards.spec.candidates import AS_WRITTEN
from tests.project.worked import GOOD, spec_text
from tests.spec.test_schema import faults
from tests.worked_specs import FOLDER

SPEC = """loomfolio: 1
project: {title: A throw, code: T-1}
yarns:
  main: {name: wool, fibre: worsted, size: Nm 12/2, label: 590 m per 100 g, put_up: 100 g, price: EUR 9, letter: W}
  edge: {size: Nm 12/2}
loom: {name: attic, action: rising, shafts: 4, treadles: 6, width: 90 cm, reed: 50 per 10 cm}
cloth: {width: 60 cm, length: 150 cm, fringe: {length: 8 cm, twist: 10 %}}
sett: 5 per cm
picks: 5 per cm
warp_order: main
weft_order: main
draft: {threading: "(1 2 3 4) to fill", tie_up: {1: 1 3, 2: 2 4, 3: 1 2}, treadling: 1 2 3}
weave:
  - {section: border, picks: 20, weft: edge}
  - {section: body, length: fill}
candidates:
"""
HEAD = len(SPEC.splitlines())


def read(*candidates, name="b", spec=SPEC):
    text = spec + "".join(f"  - {each}\n" for each in candidates)
    return read_source(text.encode(), "a.yaml", candidate=name)


def codes(reading):
    return [finding.code for finding in reading.findings]


def changed(text):
    """Read candidate b with the keys of `text`, and the spec without them, as plain data."""
    reading = read(f"{{candidate: b, {text}}}")
    assert codes(reading) == []
    alone = read(name=None, spec=SPEC[: -len("candidates:\n")])
    return data_of(reading.spec), data_of(alone.spec)


def data_of(value):
    if isinstance(value, BaseModel):
        return {key: data_of(getattr(value, key)) for key in type(value).model_fields}
    if isinstance(value, dict):
        return {key: data_of(each) for key, each in value.items()}
    return value


def difference(one, other, path=()):
    """Yield every path at which two trees of plain data differ."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in {**one, **other}:
            yield from difference(one.get(key), other.get(key), (*path, key))
    elif one != other:
        yield path


@pytest.mark.parametrize(
    ("text", "paths"),
    [
        ("sett: 6 per cm", {("sett",)}),
        ("cloth: {width: 70 cm}", {("cloth", "width")}),
        ("cloth: {fringe: {length: 9 cm}}", {("cloth", "fringe", "length")}),
        ("loom: {reed: 60 per 10 cm}", {("loom", "reed")}),
        ("project: {summary: Wider}", {("project", "summary")}),
        ("allowances: {shrinkage: {width: 9 %}}", {("allowances", "shrinkage")}),
        ("weave: [{section: body, length: fill}]", {("weave",)}),
        ("without: cloth.fringe", {("cloth", "fringe")}),
        ("without: [cloth.fringe.twist, weave]", {("cloth", "fringe", "twist"), ("weave",)}),
        ("yarns: {main: {price: EUR 7}}", {("yarns", "main", "price")}),
        ('yarns: {main: {colour: "#112233"}}', {("yarns", "main", "colour")}),
        ("yarns: {main: {lot: 7 B}}", {("yarns", "main", "lot")}),
    ],
)
def test_a_candidate_changes_what_it_gives_and_nothing_else(text, paths):
    one, other = changed(text)
    assert set(difference(one, other)) == paths


def test_a_yarn_of_another_size_keeps_nothing_of_the_one_before():
    """The label would win over the new size, and the price is that of another yarn."""
    one, _ = changed("yarns: {main: {size: Ne 8/2}}")
    main = one["yarns"]["main"]
    assert main["size"]["text"] == "Ne 8/2"
    assert [key for key, value in main.items() if value is not None] == ["size"]
    assert set(one["yarns"]) == {"main", "edge"}


def test_a_yarn_that_is_only_renamed_is_another_one_too():
    reading = read("{candidate: b, yarns: {main: {name: cotton}}}")
    assert codes(reading) == ["no-size"]
    assert reading.findings[0].place.line == HEAD + 1


def test_a_new_yarn_comes_beside_the_others():
    one, _ = changed("yarns: {silk: {size: Nm 60/2}}, warp_order: silk")
    assert set(one["yarns"]) == {"main", "edge", "silk"}


def test_a_tie_up_is_replaced_whole():
    one, _ = changed("draft: {tie_up: {1: 1 4, 2: 2 3}, treadling: 1 2}")
    assert set(one["draft"]["tie_up"]) == {1, 2}
    assert one["draft"]["threading"] is not None


def test_a_loom_that_is_named_is_another_one():
    one, _ = changed("loom: {name: barn, shafts: 8}")
    loom = one["loom"]
    assert (loom["name"], loom["shafts"], loom["reed"], loom["width"]) == ("barn", 8, None, None)


def test_what_is_taken_out_can_be_given_anew():
    layers = "{double_weave: {layers: 2, join: left, warps: main, wefts: main}}"
    one, _ = changed(f"without: [draft, warp_order, weft_order], draft: {layers}")
    assert one["draft"]["threading"] is None
    assert one["draft"]["double_weave"]["layers"] == 2


def test_findings_stand_in_the_lines_of_the_candidate():
    reading = read("candidate: a\n    sett: 6 per cm", "candidate: b\n    cloth:\n      width: 90")
    assert [(each.code, each.place.line) for each in reading.findings] == [
        ("missing-unit", HEAD + 5)
    ]
    assert reading.places.of("cloth", "width").line == HEAD + 5
    assert reading.places.of("cloth", "length").line == 7
    assert codes(read("candidate: b\n    set: 6 per cm")) == ["unknown-key"]


def test_the_spec_alone_takes_no_notice():
    alone = read(name=None, spec=SPEC[: -len("candidates:\n")])
    beside = read("{candidate: b, sett: 9}", name=None)  # wrong, and nobody looks
    assert beside.findings == alone.findings == ()
    assert beside.spec == alone.spec
    assert (alone.candidates, beside.candidates) == ((), (AS_WRITTEN, "b"))


def test_names_are_forgiving_and_near_misses_are_named():
    assert (
        read("{candidate: Fine  Wool, sett: 6 per cm}", name="fine wool").candidate == "Fine  Wool"
    )
    reading = read("{candidate: cotton, sett: 6 per cm}", name="coton")
    assert codes(reading) == ["no-such-candidate"]
    assert "'cotton'" in reading.findings[0].mend
    assert reading.findings[0].place.line == HEAD
    none = read(name="cotton", spec=SPEC[: -len("candidates:\n")])
    assert codes(none) == ["no-such-candidate"]


def test_a_candidate_without_changes_names_the_spec_as_written():
    reading = read("candidate: wool", "{candidate: b, sett: 6 per cm}", name="wool")
    assert reading.candidates == ("wool", "b")
    assert reading.spec == read(name=None, spec=SPEC[: -len("candidates:\n")]).spec
    unnamed = read("{candidate: b, sett: 6 per cm}", name=AS_WRITTEN)
    assert (unnamed.spec, unnamed.candidate) == (reading.spec, None)


@pytest.mark.parametrize("text", ["[]", "", "~"])
def test_no_candidates_at_all(text):
    reading = read(name=None, spec=SPEC.replace("candidates:\n", f"candidates: {text}\n"))
    assert reading.candidates == ()
    assert [each.level for each in reading.findings] == ([] if text == "[]" else ["error"])


def test_a_candidate_may_refer_to_a_file(tmp_path):
    (tmp_path / "looms.yaml").write_text(
        "loomfolio: 1\nlooms: [{name: barn, action: table, shafts: 8}]\n"
        "yarns: {main: {name: cotton, size: Ne 8/2, put_up: 250 g}}\n"
    )
    path = tmp_path / "spec.yaml"
    path.write_text(
        SPEC + "  - {candidate: b, yarns: {main: {from: looms.yaml, put_up: 100 g}}}\n"
        "  - {candidate: c, loom: {from: looms.yaml, name: barn}}\n"
    )
    reading = read_spec(path, candidate="b")
    assert codes(reading) == []
    main = reading.spec.yarns["main"]
    assert (main.name, main.label, main.put_up.text) == ("cotton", None, "100 g")
    assert reading.places.of("yarns", "main", "size").file == str(tmp_path / "looms.yaml")
    barn = read_spec(path, candidate="c").spec.loom
    assert (barn.action, barn.width, barn.reed) == ("table", None, None)
    # A loom that is asked for by name is taken, whatever that of the candidate.
    again = read_spec(path, "barn", "b")
    assert (again.spec.loom.name, again.spec.yarns["main"].name) == ("barn", "cotton")


def test_what_a_candidate_comes_to_is_what_the_changed_spec_comes_to():
    """The same changes written into the spec by hand give the same plan."""
    assert list(work_out_candidates(read_spec(FOLDER / "kitchen-towels.yaml"))) == []
    changes = {"sett": "20 per in", "cloth": {"width": "20 in", "length": "72 in"}}
    listed = [{"candidate": "b", **changes}]
    reading = read_source(spec_text(candidates=listed).encode(), "a.yaml", candidate="b")
    by_hand = read_source(spec_text(**changes).encode(), "a.yaml")
    assert reading.spec == by_hand.spec
    one, other = work_out(reading).project, work_out(by_hand).project
    assert one.warp == other.warp
    assert [each.need for each in one.totals] == [each.need for each in other.totals]
    assert (one.candidate, other.candidate) == ("b", "")


def test_hostile_nesting_and_size_end_soon():
    deep = "{a: " * 12 + "1" + "}" * 12
    assert codes(read(f"{{candidate: b, cloth: {deep}}}")) == ["unknown-key"]
    started = time.process_time()
    many = ", ".join(f"k{n}: {{a: 1}}" for n in range(20_000))
    assert "unknown-key" in codes(read(f"{{candidate: b, cloth: {{{many}}}}}"))
    taken = ", ".join(f"k{n}.x" for n in range(20_000))
    found = codes(read(f"{{candidate: b, without: [{taken}]}}"))
    assert set(found) == {"no-such-key"}
    assert len(found) <= 200
    assert time.process_time() - started < 20


def test_the_schema_knows_candidates_and_requires_nothing_of_them_but_a_name():
    schema = spec_schema()
    data = copy.deepcopy(GOOD) | {"loomfolio": 1}
    data["draft"]["treadling"] = "1 2"
    good = {
        "candidate": "b", "sett": "9 per cm", "loom": {"reed": "60 per 10 cm"},
        "cloth": {"fringe": {"twist": "9 %"}}, "without": ["weave"], "project": {"summary": "x"},
    }  # fmt: skip
    fine = json.loads(json.dumps(data | {"candidates": [good]}))
    fine["loom"] |= {"shafts": 4, "treadles": 6}
    assert faults(fine, schema, schema) == []
    # A name such as 60 is read as a number by whoever checks the file by its schema.
    assert faults(fine | {"candidates": [{"candidate": 60}]}, schema, schema) == []
    for bad in (
        {"sett": "9 per cm"},
        {"candidate": "b", "set": "9 per cm"},
        {"candidate": "b", "units": "metric"},
    ):
        assert faults(fine | {"candidates": [bad]}, schema, schema)
