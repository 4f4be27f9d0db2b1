"""The isometric sketch of a building."""
