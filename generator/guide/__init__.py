"""What each page says, as plain data, built from a profile and the trade's computations."""
