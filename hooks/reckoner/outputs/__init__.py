"""What is given away as data: JSON, CSV tables, feed."""
