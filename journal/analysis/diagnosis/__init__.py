"""Which causes lie behind poor results: pure, records in, probabilities and reasons out."""
