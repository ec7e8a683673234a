"""What the stress means for the edge."""
