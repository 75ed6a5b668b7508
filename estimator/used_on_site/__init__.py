"""What was used on site of what was ordered, kept over jobs, and what wastage it came to."""
