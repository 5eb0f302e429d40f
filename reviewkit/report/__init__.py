"""What comes out: the review as JSON, tables, text for people and a page."""
