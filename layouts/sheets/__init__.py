"""One module a sheet: each turns a card into pages of marks."""
