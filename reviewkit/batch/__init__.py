"""Review many classes at once, go on where it was stopped, and sum up the whole library."""
