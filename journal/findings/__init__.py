"""Results of a group's trials in words: pure, values in, sentences out."""
