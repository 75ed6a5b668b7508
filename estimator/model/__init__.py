"""The model: every list and cell, a job, and every figure of it."""
