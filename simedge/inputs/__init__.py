"""What is simulated, as frozen records without arrays, and the only parsers."""
