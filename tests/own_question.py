"""An invented question of a school's own, as its file says it."""

QUESTION = """
[[question]]
id = "own-02-1"
kind = "choice"
text = "Which of our two taps is hot first?"
answer = "near"
hint = "Count the metres."
worked = "The near one: less water stands before it."
[[question.options]]
key = "near"
text = "the one beside the tank"
[[question.options]]
key = "far"
text = "the one at the gate"
thinking = "More water stands before it."
ask = "Which holds more water?"
"""
