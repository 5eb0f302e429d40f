"""What words are: numbers, forms of a word, likeness by sound and spelling, phrases, names."""
