"""Keys and keyways: which key, how deep the slot, what to measure."""
