"""How the cards are put on paper: drawings in millimetres, and the writers for PDF and SVG."""
