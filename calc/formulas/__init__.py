"""Formulas that two or more calculations share: pure functions on floats and decimals."""
