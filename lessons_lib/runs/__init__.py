"""The small helper library: a pipe run, its insulation and surroundings, and every question that can be asked of it."""
