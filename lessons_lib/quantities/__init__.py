"""Units and their limits, errors, and numbers as people read and write them."""
