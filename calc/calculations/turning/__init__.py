"""Speeds, feeds, passes."""
