"""Stock and cut lengths."""
