"""What each lesson computes for its text: guesses, questions and calculations by hand. One module a lesson."""
