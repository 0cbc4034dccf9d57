"""Keys and keyways: which key, how deep the slot, what to measure."""

ORDER = ("parallel_key", "keyway_cut", "key_strength", "woodruff_key")
