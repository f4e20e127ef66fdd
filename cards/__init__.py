"""What the cards say: a spec read, a project worked out, and each card as plain data.

Nothing in this package knows a page, a font or an ink; `layouts` puts the cards on paper.
"""
