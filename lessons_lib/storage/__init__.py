"""Tables of data/, files written whole, and what a reader chose."""
