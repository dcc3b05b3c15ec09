"""The plan document: read with line numbers, checked against the vocabulary, turned into facts."""
