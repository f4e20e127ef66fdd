from cards.spec import Finding, Place


def test_a_finding_is_one_line_as_the_design_has_it():
    finding = Finding("note", "idle-treadle", "treadle 3 is idle", "", Place("a.yaml", 3, 9))
    assert finding.text() == "a.yaml:3:9: note: treadle 3 is idle"


def test_places_sort_as_they_stand_in_the_file():
    assert min(Place("a", 10, 1), Place("a", 9, 30), Place("a", 9, 4)).column == 4
