"""What is measured, and the quantities that follow: floors, sheet layouts, walls, openings."""
