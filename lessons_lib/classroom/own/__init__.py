"""What a school adds of its own, put in on one page by somebody who does not program."""
