"""The trade's words in plain ones: only those that a print really uses are explained.

A word is looked for in the words as they are printed, singular and plural. Of a word that also has
an everyday meaning only the uses of the trade are looked for. The explanations are our own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Term:
    """A word of the trade: its explanation, and how it is found where that is not by its name."""

    word: str
    meaning: str
    found_by: str = ""

    def used_in(self, text: str) -> bool:
        """Whether a text uses the word."""
        return _pattern(self).search(text) is not None


def _pattern(term: Term) -> re.Pattern[str]:
    words = term.found_by or rf"{re.escape(term.word)}s?"
    return re.compile(rf"(?<![\w-])(?:{words})(?![\w-])", re.IGNORECASE)


def terms_used(texts: Iterable[str]) -> tuple[Term, ...]:
    """Return the terms that some texts use, and those used to explain them, in alphabetical order.

    >>> [term.word for term in terms_used(["Weave a header with waste yarn."])]
    ['header', 'pick', 'warp', 'weft']
    """
    text = "\n".join(texts)
    found = [term for term in TERMS if term.used_in(text)]
    before = 0
    while len(found) > before:
        before = len(found)
        more = "\n".join(term.meaning for term in found)
        found += [term for term in TERMS if term not in found and term.used_in(more)]
    return tuple(sorted(found, key=lambda term: term.word.casefold()))


TERMS: Final = (
    Term("back beam", "The beam over which the warp comes from behind to the heddles."),
    Term("bar", "One link of a dobby's chain. Its pegs choose the shafts of a pick.",
         r"\d+ bars?|bars? \d+|(?:chain of|the) bars"),
    Term("beater", "The swinging frame that holds the reed and pushes every pick into place."),
    Term("bobbin", "The spool with the weft that lies in the shuttle."),
    Term("bout", "A part of the warp that is wound, tied and carried to the loom for itself."),
    Term("choke", "A tight tie round the whole warp, so that it does not slip while it is carried.",
         r"chokes?"),
    Term("cord", "What joins a treadle to a lamm, so that it moves a shaft.", r"cords?"),
    Term("countermarch", "A loom whose treadles raise some shafts and pull the others down.",
         r"countermarch"),
    Term("counterbalance", "A loom whose shafts hang together over rollers, so that some rise when "
         "others are pulled down.", r"counterbalance"),
    Term("count tie", "A thread tied round so many ends while winding. It makes them easy to count "
         "and parts the groups for the raddle."),
    Term("cross", "The place where neighbouring threads of the warp pass each other in turn, which "
         "keeps them in order.", r"(?:threading |raddle |lease )?cross(?:es)?(?! out|-)"),
    Term("dent", "The room between two wires of the reed."),
    Term("dobby", "A loom that raises the shafts of each pick from a chain of bars.",
         r"dobb(?:y|ies)"),
    Term("double weave", "Weaving two or more layers one above the other at once."),
    Term("draft", "The drawing of a weave: threading, tie-up, treadling, and what they make.",
         r"drafts?"),
    Term("draw-in", "By how much the cloth on the loom is narrower than the warp in the reed.",
         r"draw-in"),
    Term("drawdown", "The part of a draft that shows which thread lies on top at every crossing.",
         r"drawdowns?"),
    Term("end", "One thread of the warp.",
         r"(?:first|last|every|each|warp|floating|spare) ends?|\d+ ends?"
         r"|ends (?:to|in|a|per|on|of|so)|ends?(?= 1\b)"),
    Term("fell", "The edge of the cloth where the last pick lies.", r"fell of the cloth"),
    Term("float", "A stretch of thread that passes over or under several others unbound.",
         r"floats?"),
    Term("floating selvedge", "An end at the edge that goes through no heddle. The shuttle passes "
         "over it on its way in and under it on its way out.", r"floating selvedges?"),
    Term("fold", "Where cloth woven in layers goes on from one layer into the next.",
         r"folds?|folded"),
    Term("fringe", "Warp left unwoven at the ends of a piece."),
    Term("full", "To wash wool so warm and with so much rubbing that its fibres felt. It cannot be "
         "undone.", r"fulling|fulled"),
    Term("guide string", "A string as long as the warp that finds its way round the pegs.",
         r"guide strings?"),
    Term("header", "The first picks, of waste yarn, that spread the warp to its width."),
    Term("heddle", "A loop or wire with an eye for one end. It hangs on a shaft."),
    Term("hem", "Cloth at the end of a piece that is turned under and sewn.", r"hems?"),
    Term("hemstitch", "A stitch on the loom that keeps the first and last picks from slipping out.",
         r"hemstitch(?:ed|ing|es)?"),
    Term("lamm", "A bar under the shafts, between them and the treadles.", r"lamms?"),
    Term("layer", "One of the cloths that lie above one another on the loom."),
    Term("lease sticks", "Two sticks that hold the cross while the heddles are threaded."),
    Term("lever", "The handle of a table loom that raises a shaft."),
    Term("lift", "The shafts that are raised for one pick.", r"lifts?(?! (?:it|them|the|each))"),
    Term("loom waste", "Warp that cannot be woven: tied on in front, left behind the heddles.",
         r"loom waste"),
    Term("package", "A yarn as it is sold: a cone, ball or skein of so much.", r"packages?|put-up"),
    Term("pick", "One passage of the weft from edge to edge, and the thread of it.", r"picks?"),
    Term("plain weave", "Each weft thread passes over one end and under the next.",
         r"plain weave|tabby"),
    Term("ply", "A yarn of several threads twisted together.", r"pl(?:y|ies)|\d-ply"),
    Term("raddle", "A coarse comb that spreads the warp to its width while it is beamed."),
    Term("reed", "The comb in the beater that spaces the ends. It is named by its dents."),
    Term("rising shed", "A loom whose treadles raise shafts; the others stay down. Also called a "
         "jack loom.", r"rising shed|jack loom"),
    Term("round trip", "From the first peg of the warping board to the last and back.",
         r"round trips?|trips?"),
    Term("section", "A part of a piece that is woven in one way.", r"sections?"),
    Term("selvedge", "The edge of the cloth, where the weft turns."),
    Term("sett", "How close the ends lie: so many to a centimetre or an inch."),
    Term("shaft", "A frame of heddles that go up or down together. The cards say which is first."),
    Term("shed", "The opening between raised and lowered ends through which the shuttle goes."),
    Term("shrinkage", "By how much washing makes the cloth shorter and narrower.", r"shrinkage"),
    Term("shuttle", "What carries the weft through the shed."),
    Term("sinking shed", "A loom whose treadles pull shafts down; the others stay or rise.",
         r"sinking shed"),
    Term("sley", "To draw the ends through the dents of the reed.", r"sley(?:ed|ing|s)?"),
    Term("slip knot", "A knot that holds a group of threaded ends and comes undone with one pull."),
    Term("spare end", "An end wound beside the others, to mend with.", r"\d+ spare|spare ends?"),
    Term("stripe", "Neighbouring threads of one yarn.", r"stripes?"),
    Term("table loom", "A small loom whose shafts are raised by hand with levers."),
    Term("take-up", "By how much a thread is longer than the cloth that it is woven into, since it "
         "goes over and under.", r"take-up"),
    Term("tally", "The card with a box to tick for so many picks.", r"(?:pick )?tally"),
    Term("tension", "The pull on the warp. Lengths under tension are read on the loom; the cloth "
         "is shorter when it is let off.", r"tension(?:ed)?"),
    Term("tex", "The size of a yarn: grams to the kilometre.", r"tex"),
    Term("threading", "Which heddle on which shaft takes each end, in order.",
         r"threading|threaded"),
    Term("tie-up", "Which treadle moves which shafts.", r"tie-ups?|tied up"),
    Term("treadle", "A pedal that moves shafts.", r"treadles?"),
    Term("treadling", "The order in which the treadles are pressed.", r"treadling"),
    Term("tube", "Two layers joined at both sides, so that the cloth is a bag open at its ends."),
    Term("twill", "A weave whose floats step one end aside at every pick, so that they make a "
         "slanting line."),
    Term("twist a fringe", "To wind two groups of ends tightly, and let them wind back round each "
         "other.", r"twist(?:ed)? (?:or knot )?(?:the |a )?fringes?"),
    Term("warp", "The threads that are stretched on the loom, lengthwise."),
    Term("warping board", "A frame with pegs on which the warp is wound to its length.",
         r"warping (?:board|mill)s?"),
    Term("weft", "The thread that goes through the warp from side to side."),
)  # fmt: skip
