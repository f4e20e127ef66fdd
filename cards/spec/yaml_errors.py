"""What the YAML parser complains of, said in plain words and placed where the mistake is.

libyaml and PyYAML's own parser word and place their complaints differently; both come out alike.
"""

from __future__ import annotations

import re
from typing import Any

import yaml

from cards.spec.findings import Finding, Place
from cards.spec.source import Lines

_COMMENT_COLOUR = re.compile(r":[ \t]+(#[0-9a-fA-F]{3,6})\b")

# Pattern in the parser's problem, whether its context is the better place, message, mend.
_SENTENCES = (
    (
        r"mapping values are not allowed",
        False,
        "a colon stands where no key is expected",
        "put a value that holds a colon in quotes, and give keys side by side the same indent",
    ),
    (
        r"could not find expected ':'",
        True,
        "a key without its colon, or a line that belongs to no key",
        "write `key: value`",
    ),
    (
        r"found unexpected end of stream",
        True,
        "a quotation mark opens here and is never closed",
        "close the quotes",
    ),
    (
        r"expected ',' or '(\]|\})'",
        True,
        "a bracket opens here and is not closed, or its parts lack a comma",
        "close the bracket, and part what stands in it by commas",
    ),
    (
        r"nesting depth",
        True,
        "the brackets or indents are nested deeper than 20",
        "make the nesting shallower",
    ),
    (
        r"found unexpected ':'",
        False,
        "a key stands here without a value",
        "write its value, or leave the key out",
    ),
    (
        r"invalid Unicode character escape",
        False,
        "an escape stands for no character",
        "write the character itself",
    ),
    (r"unknown escape", False, "a backslash stands in double quotes", "use single quotes"),
    (
        r"expected (the )?node content",
        False,
        "a bracket or a mark stands where a value is expected",
        "put the value in quotes",
    ),
    (
        r"did not find expected (key|'-')|expected <block end>",
        False,
        "this does not fit what stands above it",
        "check the indent, and the quotes and brackets of the line before",
    ),
    (r"undefined tag|tag", False, "a tag (!) is no part of a spec", "put the value in quotes"),
)

# A figure of the plan that a text names.
_NAMED_FIGURE = re.compile(r"\{[A-Za-z][\w. -]{0,80}\}")


def syntax_finding(error: yaml.YAMLError, lines: Lines) -> Finding:
    """Return the finding for a text that the YAML parser refused."""
    if not isinstance(error, yaml.MarkedYAMLError):
        message = "this is not YAML"
        return Finding("error", "not-yaml", message, "check it", Place(lines.file, 1, 1))
    problem = str(error.problem)
    if "expected ','" in problem and error.context_mark:
        hidden = _COMMENT_COLOUR.search(lines.text, int(error.context_mark.index))
        if hidden:
            message = f"YAML reads {hidden[1]}, and what follows in its line, as a comment"
            place = lines.place(hidden.start(1))
            return Finding("error", "not-yaml", message, f'write "{hidden[1]}" in quotes', place)
    if "expected ','" in problem and error.problem_mark:
        named = _NAMED_FIGURE.match(lines.text, int(error.problem_mark.index))
        if named:
            message = "YAML reads the braces as a mapping, which cannot stand within a text"
            mend = f'put quotes round the whole text: "... {named[0]} ..."'
            return Finding("error", "not-yaml", message, mend, lines.place(named.start()))
    if "cannot start any token" in problem:
        return _bad_start(error, lines)
    for pattern, use_context, message, mend in _SENTENCES:
        if re.search(pattern, problem):
            mark = error.context_mark if use_context and error.context_mark else error.problem_mark
            code = "nested-too-deep" if "nested" in message else "not-yaml"
            return _finding(code, message, mend, mark, lines)
    message = f"this is not YAML: {problem}"
    mark = error.problem_mark or error.context_mark
    return _finding("not-yaml", message, "check the indents and the quotes", mark, lines)


def _bad_start(error: yaml.MarkedYAMLError, lines: Lines) -> Finding:
    mark = error.problem_mark
    character = lines.text[mark.index : mark.index + 1] if mark else ""
    if character == "\t":
        message, mend = "a tab stands in the indent", "indent with spaces"
    else:
        message, mend = f"a value cannot begin with `{character}`", "put the value in quotes"
    return _finding("not-yaml", message, mend, mark, lines)


def _finding(code: str, message: str, mend: str, mark: Any, lines: Lines) -> Finding:  # noqa: ANN401
    place = lines.place(mark.index) if mark else Place(lines.file, 1, 1)
    return Finding("error", code, message, mend, place)
