"""How grave each verdict's word is: 0 fine, 1 take care, 2 danger."""

LEVELS = {
    "hot enough": 0, "lukewarm": 1, "cold": 2, "freezes in the run": 2,
    "low for adults": 0, "test it first": 1, "scalds in minutes": 2, "scalds in seconds": 2,
    "stays above freezing": 0, "on the edge of freezing": 1, "lasts one night": 1, "freezes overnight": 2, "freezes within 2 h": 2,
    "stored hot": 0, "below advice": 1, "bacteria can grow": 2,
}
