"""Rolling bearings and their seats."""
