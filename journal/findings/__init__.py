"""What the trials of a group can and cannot say, in words: pure, values in, sentences out."""
