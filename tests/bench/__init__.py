"""How fast and how large: `python3 -m tests.bench`, one table, ratios taken within one run."""
