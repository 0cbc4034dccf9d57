"""Limits and fits: what size may it be, and will the two go together."""
