"""Stock and cut lengths."""

ORDER = ("bar_clean_up", "cut_length", "cut_list", "bar_mass")
