"""Place the plan's rows on the clock of the talk: edges, lengths, and how sure they are."""
