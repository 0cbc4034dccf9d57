"""Tables and pictures of an answer that would make the calculation's own file too long to read."""
