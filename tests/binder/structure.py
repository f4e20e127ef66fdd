"""Walks the structure tree of a PDF and says what is wrong with it (ISO 32000-1, 14.7)."""

import re

from pypdf.generic import ArrayObject, IndirectObject


def structure_faults(reader):
    """Return what is wrong: marked content that no element owns, or that another one says it owns."""
    root = reader.root_object["/StructTreeRoot"]
    pages = {page.indirect_reference.idnum: at for at, page in enumerate(reader.pages)}
    owners, found = {}, []

    def walk(reference, parent, page):
        element = reference.get_object()
        if element.raw_get("/P").idnum != parent:
            found.append(f"{element['/S']} has another parent")
        page = element.raw_get("/Pg").idnum if "/Pg" in element else page
        kids = element.raw_get("/K")
        if isinstance(kids, IndirectObject) and isinstance(kids.get_object(), ArrayObject):
            kids = kids.get_object()
        for kid in kids if isinstance(kids, ArrayObject) else [kids]:
            if isinstance(kid, IndirectObject):
                walk(kid, reference.idnum, page)
            elif (pages[page], int(kid)) in owners:
                found.append(f"content {kid} of page {pages[page]} is owned twice")
            else:
                owners[pages[page], int(kid)] = reference.idnum

    walk(root.raw_get("/K"), root.indirect_reference.idnum, None)
    numbers = root["/ParentTree"]["/Nums"]
    rows = {int(numbers[at]): numbers[at + 1].get_object() for at in range(0, len(numbers), 2)}
    for at, page in enumerate(reader.pages):
        row = rows[int(page["/StructParents"])]
        content = page.get_contents().get_data()
        marked = [int(each) for each in re.findall(rb"/MCID (\d+)", content)]
        told = {(at, number): owner.idnum for number, owner in enumerate(row)}
        mine = {key: owner for key, owner in owners.items() if key[0] == at}
        if not (told == mine and sorted(marked) == sorted(number for _, number in mine)):
            found.append(f"page {at} is owned by others than it says")
    return found
