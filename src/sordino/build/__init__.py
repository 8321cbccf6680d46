"""What is made from a plan: the parts of its boxes, how they go together, and in which order."""
