"""What a session prints: cards, worksheets, keys, records."""
