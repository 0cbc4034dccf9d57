"""Measuring: what the reading means."""
