"""The lessons without code cells, served to a room: a code at the door, a name once, then pages of one's own."""
