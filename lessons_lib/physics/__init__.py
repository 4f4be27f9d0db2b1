"""Plain functions on floats and numpy arrays in SI (temperatures in degC). Numpy only; no units, no widgets."""
